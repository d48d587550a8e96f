"""Checked by mypy --strict, and run: what a typed program sees."""

from guardcell import Error, convert, genus, models, recipe, water

answer: models.ConvertResponse = convert("120 ppm P2O5", to="ppm P")
value: float = answer.value

opens: models.GenusResponse = genus("Cattleya labiata", leaf="thick")

label = models.Label(
    name="Example 15-5-15",
    guaranteed=models.Guaranteed(
        n_percent=15, nitrate_n_percent=15, p2o5_percent=5, k2o_percent=15
    ),
)
strength = models.TargetFeedStrength(feed_strength=models.TargetFeedStrengthValue(mg_l=300))
# Objects as dataclasses and as mappings, side by side.
mix: models.RecipeResponse = recipe(
    [label], 4, [strength], water={"name": "rain", "ec_us_cm": 35}, resolution={"mass_g": 0.1}
)
# 300 mg/L in 4 L are 1.2 g.
assert abs((mix.products[0].mass_g or 0) - 1.2) < 0.1, mix.products

try:
    water(water={"name": "tap", "ec_us_cm": -1})
except Error as e:
    code: str = e.code
    assert e.pointer == "/water/ec_us_cm", e.pointer
else:
    raise AssertionError("a conductivity below zero was taken")
