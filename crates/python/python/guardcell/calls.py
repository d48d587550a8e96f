"""A function for every call.

Made with `cargo xtask python`; do not edit. What is required comes first and may be given by place;
the rest is given by name, and what is `None` is left out. An object may be given as its dataclass of
`guardcell.models` or as a mapping.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from guardcell import models
from guardcell.wire import ask

__all__ = [
    "advise",
    "round",
    "rescue",
    "strength_chart",
    "day_ribbon",
    "recipe",
    "water",
    "solution",
    "meter",
    "acid",
    "tank",
    "convert",
    "air",
    "film",
    "day",
    "genus",
    "search",
    "catalogue",
    "threshold",
    "review",
    "ledger",
    "adherence",
    "entry",
    "given",
    "device_journal",
]


def advise(
    site: models.SiteDescription | Mapping[str, Any],
    readings: Sequence[models.Reading | Mapping[str, Any]],
    plants: Sequence[models.PlantEntry | Mapping[str, Any]],
    at: str,
    *,
    feed: models.Label | Mapping[str, Any] | None = None,
    hours: int | None = None,
    plain_water: bool | None = None,
    water: models.WaterReport | Mapping[str, Any] | None = None,
) -> models.AdviceResponse:
    """For each plant: feed, wait, water only or leave alone; when, how strong, and why.

    Needs a site, the air (readings or a forecast) and plants; a label and a water report make it
    exact. Every plant gets a verdict, ranked windows with the feed strength and the probability of
    visible residue, reasons with their sources, and what was not known with how far that moves the
    answer. Strengths are capped by common practice; the models can only lower them.

    :param site: The place, its areas and its grower.
    :param readings: The air: one reading (advice for now) or an hourly series (advice by window).
    :param plants: The plants.
    :param at: When the answer starts: a date (`2026-06-21`, taken as local noon) or an RFC 3339 time.
    :param feed: The product that is fed, as its label states it. Without it the feed is taken as unknown
        salts and the answer says what that leaves open.
    :param hours: How many hours the answer looks ahead; 36 when not given (tonight and tomorrow).
    :param plain_water: Whether the turn is one of plain water: nobody is fed, whoever could be is misted with water
        alone, and no product is needed.
    :param water: The water the feed is mixed with and the mister topped up with. Without it, pure water is
        assumed and the answer says so.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "advise",
        {
            "site": site,
            "readings": readings,
            "plants": plants,
            "at": at,
            "feed": feed,
            "hours": hours,
            "plain_water": plain_water,
            "water": water,
        },
        models.AdviceResponse,
    )


def round(
    site: models.SiteDescription | Mapping[str, Any],
    readings: Sequence[models.Reading | Mapping[str, Any]],
    plants: Sequence[models.PlantEntry | Mapping[str, Any]],
    at: str,
    *,
    feed: models.Label | Mapping[str, Any] | None = None,
    hours: int | None = None,
    plain_water: bool | None = None,
    water: models.WaterReport | Mapping[str, Any] | None = None,
) -> models.RoundResponse:
    """One bucket, the order of the plants and every mister fill; needs `feed`.

    The advice for every plant put into a few sittings, one bucket and a sequence of mister fills,
    strongest first, so that worth lost, feed poured away, fills, minutes and walk together cost
    least. No plant gets more than its own advice allows; what another hour than its best costs it
    is said. Plants that get nothing are listed with the reason. Needs the label of the feed,
    because there is something to weigh.

    :param site: The place, its areas and its grower.
    :param readings: The air: one reading (advice for now) or an hourly series (advice by window).
    :param plants: The plants.
    :param at: When the answer starts: a date (`2026-06-21`, taken as local noon) or an RFC 3339 time.
    :param feed: The product that is fed, as its label states it. Without it the feed is taken as unknown
        salts and the answer says what that leaves open.
    :param hours: How many hours the answer looks ahead; 36 when not given (tonight and tomorrow).
    :param plain_water: Whether the turn is one of plain water: nobody is fed, whoever could be is misted with water
        alone, and no product is needed.
    :param water: The water the feed is mixed with and the mister topped up with. Without it, pure water is
        assumed and the answer says so.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "round",
        {
            "site": site,
            "readings": readings,
            "plants": plants,
            "at": at,
            "feed": feed,
            "hours": hours,
            "plain_water": plain_water,
            "water": water,
        },
        models.RoundResponse,
    )


def rescue(
    name: str,
    site: models.SiteDescription | Mapping[str, Any],
    from_: str,
    days: int,
    *,
    alternate: bool | None = None,
    area: str | None = None,
    leaf: models.Leaf | None = None,
    soak_min: float | None = None,
) -> models.RescueResponse:
    """The soaks of a rootless plant.

    Two short soaks a day, by day for C3 and by night for CAM, dry in between, with what to look for
    and when to stop. Common practice throughout; no trial is known to us.

    :param name: The name of the plant.
    :param site: The site.
    :param from_: The first day, `YYYY-MM-DD`.
    :param days: How many days to plan, 1 to 200.
    :param alternate: Whether feed and plain water alternate, feed first: for a plant that had much feed, or whose
        water is hard. Every soak has feed when not given.
    :param area: The area it stands in; the first of the site when not given.
    :param leaf: What its leaf is like, for a name with no record or a genus that varies.
    :param soak_min: How long one soak lasts, in minutes; 30 when not given, and never more.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "rescue",
        {
            "name": name,
            "site": site,
            "from": from_,
            "days": days,
            "alternate": alternate,
            "area": area,
            "leaf": leaf,
            "soak_min": soak_min,
        },
        models.RescueResponse,
    )


def strength_chart(
    feed: models.Label | Mapping[str, Any],
    temp_c: float,
    *,
    residue_threshold_g_m2: float | None = None,
    tolerance: float | None = None,
    water: models.WaterReport | Mapping[str, Any] | None = None,
) -> models.StrengthChartResponse:
    """The highest feed strength that leaves acceptable residue, by humidity and air movement.

    A table for one product in one water at one temperature, in steady air. On a real day the driest
    hour until the next spraying decides, so ask for advice with readings instead where you have
    them.

    :param feed: The product.
    :param temp_c: Air temperature in °C, 0 to 45.
    :param residue_threshold_g_m2: The grower's own residue threshold, g/m².
    :param tolerance: The probability of visible residue that is accepted, 0.01 to 0.5.
    :param water: The water; pure where not given.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "strength_chart",
        {
            "feed": feed,
            "temp_c": temp_c,
            "residue_threshold_g_m2": residue_threshold_g_m2,
            "tolerance": tolerance,
            "water": water,
        },
        models.StrengthChartResponse,
    )


def day_ribbon(
    situation: models.AdviceRequest | Mapping[str, Any],
    *,
    area: str | None = None,
) -> models.DayRibbonResponse:
    """The 24-hour ribbon of an area: light, humidity, openings and best windows.

    Takes a request for advice and one of its areas; gives light, air, when which plants open, and
    the best window of each group over 24 hours from `at`.

    :param situation: The situation; its `at` is where the ribbon begins.
    :param area: The area; the first of the site where not given.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "day_ribbon",
        {
            "situation": situation,
            "area": area,
        },
        models.DayRibbonResponse,
    )


def recipe(
    products: Sequence[models.Label | Mapping[str, Any]],
    volume_l: float,
    targets: Sequence[models.Target | Mapping[str, Any]],
    *,
    ceilings: models.Ceilings | Mapping[str, Any] | None = None,
    resolution: models.ScaleResolution | Mapping[str, Any] | None = None,
    target_meaning: models.TargetMeaning | None = None,
    temp_c: float | None = None,
    water: models.WaterReport | Mapping[str, Any] | None = None,
) -> models.RecipeResponse:
    """What to weigh of which product for a target, in this water.

    Solves for the masses of the products that reach feed strength or nutrient targets within
    ceilings, rounds them to what the scale can weigh, and predicts the conductivity, pH and ions of
    the result. A target that cannot be reached is refused with what blocks it.

    :param products: The labels of the products to use.
    :param volume_l: How much solution, L (above 0).
    :param targets: What is wanted: one target for one product, any number for several.
    :param ceilings: Limits not to pass.
    :param resolution: What the grower can weigh.
    :param target_meaning: Whether nutrient targets count what the feed adds or the total.
    :param temp_c: Temperature of the solution, °C (0–40; 25 if omitted): for the reading of a meter
        without compensation.
    :param water: The water; pure water if omitted.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "recipe",
        {
            "products": products,
            "volume_l": volume_l,
            "targets": targets,
            "ceilings": ceilings,
            "resolution": resolution,
            "target_meaning": target_meaning,
            "temp_c": temp_c,
            "water": water,
        },
        models.RecipeResponse,
    )


def water(
    *,
    blend: models.BlendRequest | Mapping[str, Any] | None = None,
    headroom: models.HeadroomRequest | Mapping[str, Any] | None = None,
    water: models.WaterReport | Mapping[str, Any] | None = None,
) -> models.WaterResponse:
    """A water report completed, with headroom, blend and residue.

    Completes a partial water report (ions, hardness, alkalinity, conductivity) by charge balance
    and conductivity, says which figures are assumed, and gives the room left below a conductivity
    ceiling, the blend with rain water that meets a target, and the residue the water leaves alone.

    :param blend: A blend with softer water that is wanted.
    :param headroom: A ceiling under which the feed headroom is wanted.
    :param water: The report.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "water",
        {
            "blend": blend,
            "headroom": headroom,
            "water": water,
        },
        models.WaterResponse,
    )


def solution(
    *,
    co2: models.Co2 | Mapping[str, Any] | None = None,
    ions_mg_l: models.IonsMgL | Mapping[str, Any] | None = None,
    ions_mmol_l: models.IonsMmolL | Mapping[str, Any] | None = None,
    ph: float | None = None,
    temp_c: float | None = None,
) -> models.SolutionResponse:
    """Conductivity, pH, species and saturation of one composition.

    Solves the chemical equilibrium of the given totals (ion pairs, acids, carbonate, activity) and
    computes the conductivity from the species. Valid from 0 to 40 °C and up to an ionic strength of
    about 1 mol/kg.

    :param co2: Whether carbon dioxide is exchanged with the air; closed if omitted.
    :param ions_mg_l: Totals in mg/L.
    :param ions_mmol_l: Totals in mmol/L.
    :param ph: The measured pH, 0 to 14; if omitted it follows from the charge balance.
    :param temp_c: The temperature, 0 to 40 °C; 25 if omitted.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "solution",
        {
            "co2": co2,
            "ions_mg_l": ions_mg_l,
            "ions_mmol_l": ions_mmol_l,
            "ph": ph,
            "temp_c": temp_c,
        },
        models.SolutionResponse,
    )


def meter(
    label: models.Label | Mapping[str, Any],
    reading: models.MeterReading | Mapping[str, Any],
    *,
    accuracy_percent: float | None = None,
    uncompensated_at_c: float | None = None,
    water: models.WaterReport | Mapping[str, Any] | None = None,
) -> models.MeterResponse:
    """The feed strength that a meter reading indicates.

    Inverts the conductivity model for one product in one water: from a reading in µS/cm or on a
    stated ppm scale to feed strength and ppm N, with the range that the accuracy of the meter
    allows.

    :param label: The product that was dissolved.
    :param reading: What the meter showed.
    :param accuracy_percent: How far the meter may be off, percent; the parameter `meter_accuracy` if omitted.
    :param uncompensated_at_c: The temperature of the solution, °C, for a meter without temperature compensation; if
        omitted, the reading refers to 25 °C.
    :param water: The water it was dissolved in; pure water if omitted.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "meter",
        {
            "label": label,
            "reading": reading,
            "accuracy_percent": accuracy_percent,
            "uncompensated_at_c": uncompensated_at_c,
            "water": water,
        },
        models.MeterResponse,
    )


def acid(
    water: models.WaterReport | Mapping[str, Any],
    acid: models.AcidName,
    strength_percent: float,
    target: models.AcidTarget | Mapping[str, Any],
    volume_l: float,
    *,
    density_kg_l: float | None = None,
) -> models.AcidResponse:
    """How much acid brings a water to a pH or alkalinity.

    Titrates the water with the acid as bought and gives the volume or mass to add, the nutrients it
    brings, and the safety notes. Always add acid to water and check the pH with a meter.

    :param water: The water; alkalinity is needed, and pH where the target is a pH.
    :param acid: Which acid.
    :param strength_percent: Its strength, percent by mass.
    :param target: The target.
    :param volume_l: How much water, L.
    :param density_kg_l: Density of the liquid acid, kg/L; omitted for a solid, which is weighed.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "acid",
        {
            "water": water,
            "acid": acid,
            "strength_percent": strength_percent,
            "target": target,
            "volume_l": volume_l,
            "density_kg_l": density_kg_l,
        },
        models.AcidResponse,
    )


def tank(
    products: Sequence[models.TankProduct | Mapping[str, Any]],
    injector_n: float,
    convention: models.Convention,
    stock_l: float,
    coldest_c: float,
) -> models.TankResponse:
    """Which concentrates may share a stock tank.

    Checks each product at stock strength for solubility at the coldest temperature and each pair
    for salts that would precipitate, and divides the products over as few tanks as possible.

    :param products: The products.
    :param injector_n: N of the injector's 1:N.
    :param convention: What N counts.
    :param stock_l: The volume of stock, L.
    :param coldest_c: The coldest temperature the tank will see, °C (0–40).
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "tank",
        {
            "products": products,
            "injector_n": injector_n,
            "convention": convention,
            "stock_l": stock_l,
            "coldest_c": coldest_c,
        },
        models.TankResponse,
    )


def convert(
    quantity: str,
    to: str,
    *,
    bulk_density: str | None = None,
    density: str | None = None,
    ec_compensation: models.EcCompensation | None = None,
    ec_percent_per_k: float | None = None,
    light_source: models.LightSource | None = None,
    ppm_means: models.PpmMeaning | None = None,
) -> models.ConvertResponse:
    """Convert a quantity to another unit or basis.

    Reads a quantity as growers write it (fractions, decimal commas, labels in oxides, degrees of
    hardness, EC at a temperature, ppm of a meter) and gives it in another unit or basis. A bare ppm
    is refused unless `ppm_means` says what it counts. Conversions that depend on the product (EC to
    ppm of a nutrient) are refused with the reason; those that need a bulk density, a density or a
    light source ask for it. The response lists what was assumed and the sources of the definitions.

    :param quantity: The quantity as written, such as `120 ppm P2O5`, `14 °dH` or `1.4 mS/cm at 18 °C`.
    :param to: The unit and basis to convert to, such as `ppm P`, `mg/L CaCO3` or `mS/cm at 25 °C`.
    :param bulk_density: The bulk density of a powder, such as `0.93 g/mL` or `4.6 g/tsp`; needed between spoonfuls
        and mass, and only there.
    :param density: The density of a liquid, such as `1.24 kg/L`; needed between shares by mass and mass per
        volume, and between volume and mass of a liquid.
    :param ec_compensation: How EC is brought from one temperature to another; linear by default.
    :param ec_percent_per_k: The coefficient of linear compensation in per cent per kelvin, 0 to 10; 1.9 by default.
    :param light_source: The light source; needed between lux and photon flux density, and only there.
    :param ppm_means: What a bare ppm means to this grower; a bare ppm is refused by default.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "convert",
        {
            "quantity": quantity,
            "to": to,
            "bulk_density": bulk_density,
            "density": density,
            "ec_compensation": ec_compensation,
            "ec_percent_per_k": ec_percent_per_k,
            "light_source": light_source,
            "ppm_means": ppm_means,
        },
        models.ConvertResponse,
    )


def air(
    temp_c: float,
    rh_percent: float,
    *,
    pressure_kpa: float | None = None,
) -> models.AirResponse:
    """Dew point, wet bulb and vapour pressure deficit of moist air.

    Needs temperature and relative humidity; pressure is that of sea level by default. Equations of
    the ASHRAE Handbook Fundamentals 2017, chapter 1, over liquid water, also below 0 °C.

    :param temp_c: Air temperature in °C.
    :param rh_percent: Relative humidity over water in %.
    :param pressure_kpa: Air pressure in kPa; 101.325 by default.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "air",
        {
            "temp_c": temp_c,
            "rh_percent": rh_percent,
            "pressure_kpa": pressure_kpa,
        },
        models.AirResponse,
    )


def film(
    temp_c: float,
    rh_percent: float,
    *,
    air_m_s: float | None = None,
    air_words: models.AirWord | None = None,
    composition: models.Dissolved | Mapping[str, Any] | None = None,
    course: bool | None = None,
    driest_rh_percent: float | None = None,
    leaf_cm: float | None = None,
    load_g_m2: float | None = None,
    net_radiation_w_m2: float | None = None,
    passes: int | None = None,
    plain_water_pass: bool | None = None,
    pressure_kpa: float | None = None,
    stiff_leaf: bool | None = None,
    threshold_g_m2: float | None = None,
    wet_sides: models.WetSides | None = None,
    wetting_agent: bool | None = None,
) -> models.FilmResponse:
    """How one film dries and what it leaves.

    Needs temperature and humidity of the air; air movement, leaf, film load, composition and passes
    have defaults. Gives the time to dry, the deposit with its uncertainty and the probability that
    it is seen, the humidity that keeps the mix wet, uptake and the risk at a root tip. The residue
    threshold and the crust are calibrated on common practice; uptake is uncertain by a factor of
    about 3.

    :param temp_c: Air temperature in °C.
    :param rh_percent: Relative humidity in %.
    :param air_m_s: Air speed at the leaf in m/s.
    :param air_words: A word for the air movement, instead of the speed.
    :param composition: What is dissolved in the spray, feed and water together.
    :param course: Include the time course.
    :param driest_rh_percent: Relative humidity in % of the driest air the leaf sees before the next spraying; by default
        that of the drying.
    :param leaf_cm: Leaf dimension along the air flow in cm.
    :param load_g_m2: Film load after run-off per wet side in g/m².
    :param net_radiation_w_m2: Net radiation absorbed by the leaf in W/m².
    :param passes: Passes of the feed, each laid when the one before has dried.
    :param plain_water_pass: A last pass of pure water.
    :param pressure_kpa: Air pressure in kPa.
    :param stiff_leaf: The leaf is too stiff to flutter in wind; a fluttering leaf dries up to 1.4 times faster.
    :param threshold_g_m2: This grower's residue threshold in g/m² instead of the shipped one.
    :param wet_sides: Sides of the leaf that are wet.
    :param wetting_agent: A wetting agent is in the spray.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "film",
        {
            "temp_c": temp_c,
            "rh_percent": rh_percent,
            "air_m_s": air_m_s,
            "air_words": air_words,
            "composition": composition,
            "course": course,
            "driest_rh_percent": driest_rh_percent,
            "leaf_cm": leaf_cm,
            "load_g_m2": load_g_m2,
            "net_radiation_w_m2": net_radiation_w_m2,
            "passes": passes,
            "plain_water_pass": plain_water_pass,
            "pressure_kpa": pressure_kpa,
            "stiff_leaf": stiff_leaf,
            "threshold_g_m2": threshold_g_m2,
            "wet_sides": wet_sides,
            "wetting_agent": wetting_agent,
        },
        models.FilmResponse,
    )


def day(
    latitude_deg: float,
    longitude_deg: float,
    time_zone: str,
    date: str,
    *,
    hours: Sequence[models.HourOfAir | Mapping[str, Any]] | None = None,
    lamp_cycle: models.LampCycle | Mapping[str, Any] | None = None,
    lamps: Sequence[models.LampRun | Mapping[str, Any]] | None = None,
    light: models.LightKind | None = None,
    outdoors: bool | None = None,
    water_status: models.WaterStatus | None = None,
) -> models.DayResponse:
    """Sun, light and openings of one date.

    Needs a location, its time zone and a date; lamps, water status and the air hour by hour are
    optional. Sunrise, sunset and civil twilight are those of the SPA (Reda & Andreas 2004) for a
    level horizon, within a second. Openings are given for a C3, a CAM, a facultative and an unknown
    pathway; their probabilities are a judgement on published gas exchange, not measured
    frequencies.

    :param latitude_deg: Latitude in degrees, north positive.
    :param longitude_deg: Longitude in degrees, east positive.
    :param time_zone: IANA time zone, such as `Europe/London`.
    :param date: The local date, `YYYY-MM-DD`, 1900 to 2200.
    :param hours: The air hour by hour, in order of time; openings are not narrowed outside it.
    :param lamp_cycle: Lamps that are on and off in turn, instead of lamp hours.
    :param lamps: Lamp hours; these or a cycle are required when `light` has lamps.
    :param light: Where the light comes from.
    :param outdoors: Whether the plants are in the open.
    :param water_status: What the plants have had to drink.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "day",
        {
            "latitude_deg": latitude_deg,
            "longitude_deg": longitude_deg,
            "time_zone": time_zone,
            "date": date,
            "hours": hours,
            "lamp_cycle": lamp_cycle,
            "lamps": lamps,
            "light": light,
            "outdoors": outdoors,
            "water_status": water_status,
        },
        models.DayResponse,
    )


def genus(
    query: str,
    *,
    leaf: models.Leaf | None = None,
) -> models.GenusResponse:
    """When a plant opens its stomata, from its name.

    Takes a name as on a label: a genus, a species, a hybrid, an old name, an abbreviation or a
    misspelling. Answers the pathway, the opening and the leaf with the grade of the evidence
    (measured, reported, inferred) and its sources. A name that is not known is an answer, not an
    error; one that may mean several taxa lists them.

    :param query: The name of the plant as on its label: a genus, species, hybrid genus, old name or
        abbreviation, with or without epithet and cultivar.
    :param leaf: The leaf of the plant, used if its name does not settle the question.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "genus",
        {
            "query": query,
            "leaf": leaf,
        },
        models.GenusResponse,
    )


def search(
    query: str,
    *,
    limit: int | None = None,
) -> models.SearchResponse:
    """Names that begin with a text.

    For completion while a name is typed: genera and species first, then hybrid genera, old names
    and abbreviations. If nothing begins with the text, the matches are what a misspelt name may
    mean.

    :param query: The beginning of a name: a genus, hybrid genus, old name or abbreviation, or a genus and
        the beginning of an epithet.
    :param limit: The most matches wanted; 12 if omitted.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "search",
        {
            "query": query,
            "limit": limit,
        },
        models.SearchResponse,
    )


def catalogue(
) -> models.CatalogueResponse:
    """Every name of the tables.

    Every genus, hybrid genus, old name, spelling and abbreviation with its pathway, opening and
    leaf, for a look-up without a connection.

    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "catalogue",
        {
        },
        models.CatalogueResponse,
    )


def threshold(
    observations: Sequence[models.Observation | Mapping[str, Any]],
    *,
    day: str | None = None,
    group: str | None = None,
    influence: bool | None = None,
    interval_share: float | None = None,
    logs_only_white: bool | None = None,
    next: models.NextStrengthRequest | Mapping[str, Any] | None = None,
    not_used: Sequence[models.NotUsed | Mapping[str, Any]] | None = None,
    prior: models.Prior | Mapping[str, Any] | None = None,
    rounds: Sequence[models.SprayedRound | Mapping[str, Any]] | None = None,
) -> models.ThresholdResponse:
    """The residue threshold of a grower, learned from what was seen, and the next feed strength.

    Takes looks for residue and rounds with the residue modelled for them. Answers the residue at
    which this grower begins to see white, with an interval, and two strengths: what the reports
    allow, and what is proposed after the rule that white halves the strength. Every number of the
    model is common practice without a source, chosen by a simulation study; intervals are wide, a
    factor of about two either way.

    :param observations: What was seen, in any order; at most 100,000.
    :param day: The day it is asked for, `YYYY-MM-DD`: the threshold drifts on to it. The day of the last
        observation or round when not given. Later observations and rounds are omitted.
    :param group: The group whose threshold is asked for; the whole site when not given. Reports on other
        plants then only tell about the site.
    :param influence: Asks what each of the last looks did to the threshold.
    :param interval_share: The probability that the interval holds, 0.5 to 0.99; 0.9 when not given.
    :param logs_only_white: Whether the grower logs white only, so that a round without a look was probably clean.
    :param next: Asks for the next feed strength.
    :param not_used: What was omitted from the observations, repeated in the answer.
    :param prior: Where to start from; the shipped calibration when not given.
    :param rounds: The rounds that were sprayed, in any order; at most 100,000. They tell when product, water,
        wetting agent or sprayer changed, and which rounds nobody looked at.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "threshold",
        {
            "observations": observations,
            "day": day,
            "group": group,
            "influence": influence,
            "interval_share": interval_share,
            "logs_only_white": logs_only_white,
            "next": next,
            "not_used": not_used,
            "prior": prior,
            "rounds": rounds,
        },
        models.ThresholdResponse,
    )


def review(
    entries: Sequence[models.EntryInput | Mapping[str, Any]],
    at: str,
    *,
    from_: str | None = None,
    logs_only_white: bool | None = None,
    only: Sequence[str] | None = None,
    plants: Sequence[models.PlantEntry | Mapping[str, Any]] | None = None,
    tolerance: float | None = None,
) -> models.ReviewResponse:
    """What each plant got, whether its feed strength is right, what to change now.

    Takes the entries of a site and its collection. Answers the learned residue threshold and the
    next feed strength of the site and of each group with looks enough for its own; for each plant
    its account by week, its looks, the next strength with the reason, and what to change. Entries
    that others correct or take back count for nothing, in whatever order they are given.

    :param entries: What was done and seen on one site, in any order; at most 100,000.
    :param at: The moment it is drawn up for, RFC 3339 with offset; later entries are omitted.
    :param from_: The first day of the account, `YYYY-MM-DD`; that of the first entry when not given.
    :param logs_only_white: Whether the grower logs white only, so that a round without a look was probably clean.
    :param only: The plants that are asked for, by id; all when empty.
    :param plants: The plants of the collection. A plant that is only in the entries is reviewed too, without
        what its setting and standing would tell.
    :param tolerance: Probability of visible residue that is accepted, 0.01 to 0.5; 0.1 when not given.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "review",
        {
            "entries": entries,
            "at": at,
            "from": from_,
            "logs_only_white": logs_only_white,
            "only": only,
            "plants": plants,
            "tolerance": tolerance,
        },
        models.ReviewResponse,
    )


def ledger(
    entries: Sequence[models.EntryInput | Mapping[str, Any]],
    at: str,
    *,
    from_: str | None = None,
    plants: Sequence[models.PlantEntry | Mapping[str, Any]] | None = None,
) -> models.Ledger:
    """What each plant got by week, and what is due.

    Takes entries and a collection. Answers for each plant the dissolved feed through leaf and root
    by week against the ceiling of its pot, what has built up since the last flush, when it was last
    fed, and when feed and flush are due.

    :param entries: What was done and seen, in any order; at most 100,000.
    :param at: The moment it is drawn up for, RFC 3339 with offset; later entries are omitted.
    :param from_: The first day, `YYYY-MM-DD`; that of the first entry when not given.
    :param plants: The plants of the collection. A plant that is only in the journal is listed too, without
        what its setting and standing would tell.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "ledger",
        {
            "entries": entries,
            "at": at,
            "from": from_,
            "plants": plants,
        },
        models.Ledger,
    )


def adherence(
    entries: Sequence[models.EntryInput | Mapping[str, Any]],
    plant: str,
    soaks: Sequence[models.Soak | Mapping[str, Any]],
    at: str,
) -> models.Adherence:
    """A plan of soaks compared with the entries.

    Takes a plan of soaks and what was logged. Answers which soaks were done and which were missed,
    the signs seen since, and whether to look, to go on or to stop.

    :param entries: What was done and seen, in any order; at most 100,000.
    :param plant: The grower's identifier of the plant.
    :param soaks: The planned soaks, as the plan gives them.
    :param at: The moment it is drawn up for, RFC 3339 with offset; later entries are left out.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "adherence",
        {
            "entries": entries,
            "plant": plant,
            "soaks": soaks,
            "at": at,
        },
        models.Adherence,
    )


def entry(
    at: str,
    site: str,
    event: models.Event | Mapping[str, Any],
    *,
    id: str | None = None,
    note: str | None = None,
    recorded: str | None = None,
    supersedes: str | None = None,
    zone: str | None = None,
) -> models.Entry:
    """What was done or seen, checked, as a journal records it.

    Takes a draft with an identifier and a time of recording. Answers the entry with its times in
    canonical form. Nothing is stored.

    :param at: When it happened, RFC 3339 with the offset of the grower's clock.
    :param site: The name of the site.
    :param event: What happened.
    :param id: An identifier of the caller's own, 1 to 64 characters. Given twice with the same content
        the entry is recorded once, so a caller that was interrupted can simply try again. The
        journal makes one up if it is missing.
    :param note: Free remarks, up to 10,000 characters.
    :param recorded: When it was recorded, RFC 3339; now if it is missing. Only imports set it.
    :param supersedes: The entry that this one corrects. The old one is kept.
    :param zone: IANA time zone of the place, such as `Europe/London`; must have that offset at that time.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "entry",
        {
            "at": at,
            "site": site,
            "event": event,
            "id": id,
            "note": note,
            "recorded": recorded,
            "supersedes": supersedes,
            "zone": zone,
        },
        models.Entry,
    )


def given(
    plan: models.RoundResponseInput | Mapping[str, Any],
    id: str,
    recorded: str,
    *,
    at: str | None = None,
    left_out: Sequence[str] | None = None,
    note: str | None = None,
    sitting: int | None = None,
    steps: Sequence[models.GivenStep | Mapping[str, Any]] | None = None,
    zone: str | None = None,
) -> models.GivenRounds:
    """The entries of a planned sitting as it was given.

    Takes the plan of a round, the sitting that was done, the plants that were left out and the
    steps that were done differently. Answers the entries to record, one for each strength and air,
    with the residue that the plan expects. Nothing is stored.

    :param plan: The plan of the round.
    :param id: An identifier of the caller's own, 1 to 48 characters; each entry has it with its number.
    :param recorded: When it is recorded, RFC 3339.
    :param at: When it was done, RFC 3339 with offset; the start of the sitting where not given.
    :param left_out: Plants that were not sprayed.
    :param note: Free remarks, up to 10,000 characters, for each entry.
    :param sitting: The sitting that was done, counted from 0.
    :param steps: Steps that were done differently.
    :param zone: IANA time zone of the place; left out of an entry whose time has another offset.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "given",
        {
            "plan": plan,
            "id": id,
            "recorded": recorded,
            "at": at,
            "left_out": left_out,
            "note": note,
            "sitting": sitting,
            "steps": steps,
            "zone": zone,
        },
        models.GivenRounds,
    )


def device_journal(
    *,
    answered: models.EntriesTakenInput | Mapping[str, Any] | None = None,
    arrived: models.EntriesPageInput | Mapping[str, Any] | None = None,
    device: models.DeviceJournal | Mapping[str, Any] | None = None,
    dropped: Sequence[str] | None = None,
    record: Sequence[models.Draft | Mapping[str, Any]] | None = None,
) -> models.DeviceResponse:
    """The journal of a device, one step further.

    Takes the journal of a device as the last answer left it, and what happened: entries recorded,
    an answer to entries that were sent, a page of the server's journal. Answers the journal now,
    what to send next and where to read on. Corrections of entries that are not there or are
    corrected already are refused. Nothing is stored.

    :param answered: What a server answered to the entries that were sent.
    :param arrived: A page of the server's journal.
    :param device: The journal as the last answer left it; an empty one where not given.
    :param dropped: Entries set aside that are taken out, by id.
    :param record: New entries of this device, each with its `id` and `recorded`.
    :raises guardcell.Error: if the request is refused
    """
    return ask(
        "device_journal",
        {
            "answered": answered,
            "arrived": arrived,
            "device": device,
            "dropped": dropped,
            "record": record,
        },
        models.DeviceResponse,
    )
