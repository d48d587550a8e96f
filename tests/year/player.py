"""The grower of the year: what is true of the house, which the program is not told.

White is seen where the residue is above a threshold that is drawn for each house. The residue of a
strength follows from the humidity of the driest hour of the day after, with an error of the day: the
world of the study of the learned threshold (`cargo xtask study threshold`), written down again here.
"""

import math
import random

# Residue of 1 mg/L in g/m² where half of the film sets to a crust, at 42.5 % humidity; below 75 % a
# growing share sets, all of it at 25 %. (The same as in the study.)
SLOPE = 0.0161 / 300.0
DAY_SD = 0.33
WAVERS = 0.15
SLIPS = 0.03
LEVELS = ((4.0, "heavy"), (2.0, "clear"), (1.0, "faint"))


def slope(humidity):
    return SLOPE * min(50.0, max(0.5, 75.0 - humidity)) / 32.5


def normal_above(x):
    return 0.5 * math.erfc(x / math.sqrt(2))


class House:
    """Threshold and hand of a house on a day."""

    def __init__(self, seed, changes):
        rng = random.Random(f"house {seed}")
        # The worlds of the study: sharper eyes and darker leaves than the shipped expectation of
        # 0.052 g/m², so that the first strengths are too strong and must come down.
        self.threshold = rng.choice((0.012, 0.02, 0.03)) * math.exp(0.15 * rng.gauss(0, 1))
        self.changes = changes

    def on(self, day):
        """Threshold, load over the model's, and spread of a day (natural logarithm)."""
        threshold, load, sd = self.threshold, 1.0, DAY_SD
        if day >= self.changes["product"]:
            threshold *= 0.7
        if day >= self.changes["water"]:
            threshold *= 0.85  # a harder water from then on
        if day >= self.changes["hand"]:
            load, sd = 1.3, 0.45
        return threshold, load, sd

    def residue(self, day, strength, passes, driest):
        return strength * passes * slope(driest) * self.on(day)[1]

    def chance(self, day, strength, passes, driest):
        """The true chance that white is seen, the error of the day and of the eye included."""
        threshold, _, sd = self.on(day)
        if strength <= 0:
            return 0.0
        over = math.log(self.residue(day, strength, passes, driest) / threshold)
        # a logistic of scale s is near a normal of sd 1.7 s
        return normal_above(-over / math.hypot(sd, 1.7 * WAVERS))


class Eyes:
    """Looks at leaves, some hours after the round."""

    def __init__(self, seed, house):
        self.rng = random.Random(f"eyes {seed}")
        self.house = house

    def error_of_day(self, day):
        return self.rng.gauss(0, self.house.on(day)[2])

    def level(self, day, residue, error):
        """What is written down, and whether white was there; some looks are slips of the pen."""
        unit = min(1 - 1e-9, max(1e-9, self.rng.random()))
        wavers = WAVERS * math.log(unit / (1 - unit))
        seen = residue * math.exp(error + wavers) / self.house.on(day)[0]
        true = next((name for least, name in LEVELS if seen > least), "none")
        slip = self.rng.random() < SLIPS
        return self.rng.choice(["none", "faint", "clear"]) if slip else true, true != "none"
