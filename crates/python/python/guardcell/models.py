"""The types of requests and answers, one a schema.

Made with `cargo xtask python`; do not edit. Field names end in their unit. What an answer does not
have, and what a request leaves out, is `None`. A name that Python keeps to itself has an underscore at
its end: `from_`, `with_`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal, TypeAlias


@dataclass(frozen=True, kw_only=True, slots=True)
class AcidRequest:
    """A question about acid."""

    water: WaterReport
    """The water; alkalinity is needed, and pH where the target is a pH."""

    acid: AcidName
    """Which acid."""

    strength_percent: float
    """Its strength, percent by mass."""

    target: AcidTarget
    """The target."""

    volume_l: float
    """How much water, L."""

    density_kg_l: float | None = None
    """Density of the liquid acid, kg/L; omitted for a solid, which is weighed."""


@dataclass(frozen=True, kw_only=True, slots=True)
class AcidResponse:
    """How much acid, and what it does."""

    mass_g: float
    """Acid to add, g."""

    alkalinity_before_mg_l_caco3: float
    """Alkalinity before, mg/L as CaCO3, to the same end point."""

    neutralised_mg_l_caco3: float
    """Alkalinity neutralised, mg/L as CaCO3."""

    alkalinity_after_mg_l_caco3: float
    """Alkalinity left, mg/L as CaCO3, as a titration of the treated water to
    `alkalinity_end_point_ph` finds it: carbonate, and what phosphate or citrate takes up on the
    way to that pH.
    """

    carbonate_alkalinity_after_mg_l_caco3: float
    """The part of it that is carbonate and hydroxide, mg/L as CaCO3: what becomes scale when the
    water dries.
    """

    alkalinity_end_point_ph: float
    """End point of the titration that defines alkalinity (Standard Methods 2320 B)."""

    ph_after: float
    """pH after, before the CO2 set free has escaped."""

    ph_after_co2_has_left: float
    """pH once the CO2 has escaped and the water is at rest with outdoor air."""

    n_mg_l: float
    """N added, mg/L."""

    p_mg_l: float
    """P added, mg/L as P."""

    s_mg_l: float
    """S added, mg/L as S."""

    protons_per_mole: float
    """Protons that one mole of the acid gives up at that pH."""

    cautions: list[Notice]
    """The cautions, always in full."""

    warnings: list[Notice]
    """What a reader should know."""

    volume_ml: float | None = None
    """Acid to add, mL, where a density was given."""


@dataclass(frozen=True, kw_only=True, slots=True)
class AcidTargetAlkalinityMgLCaco3:
    """This much alkalinity left, mg/L as CaCO3, as a titration to pH 4.5 finds it."""

    alkalinity_mg_l_caco3: float


@dataclass(frozen=True, kw_only=True, slots=True)
class AcidTargetPh:
    """This pH, before the CO2 set free has escaped (4–8.3)."""

    ph: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Adherence:
    """What became of a plan of soaks."""

    plant: str
    """The plant."""

    at: str
    """The moment it was drawn up for, RFC 3339."""

    planned: int
    """Soaks planned up to now."""

    done: list[DoneSoak]
    """Planned soaks that were logged."""

    missed: list[Soak]
    """Planned soaks that were not."""

    days_missed: int
    """Days on which soaks were planned and none was logged."""

    beside_the_plan: int
    """Soaks that were logged and belong to none of the plan."""

    days: int
    """Whole days since the first planned soak."""

    signs: list[SeenSign]
    """Signs of growth, or the end, that were logged since, in order of time."""

    says: list[ReasonOutput]
    """What that means, most important first."""


@dataclass(frozen=True, kw_only=True, slots=True)
class AdherenceRequest:
    """A request for the adherence to a plan of soaks."""

    entries: list[EntryInput]
    """What was done and seen, in any order; at most 100,000."""

    plant: str
    """The grower's identifier of the plant."""

    soaks: list[Soak]
    """The planned soaks, as the plan gives them."""

    at: str
    """The moment it is drawn up for, RFC 3339 with offset; later entries are left out."""


@dataclass(frozen=True, kw_only=True, slots=True)
class AdviceRequest:
    """A request for advice: who may be fed, when, how strong."""

    site: SiteDescription
    """The place, its areas and its grower."""

    readings: list[Reading]
    """The air: one reading (advice for now) or an hourly series (advice by window)."""

    plants: list[PlantEntry]
    """The plants."""

    at: str
    """When the answer starts: a date (`2026-06-21`, taken as local noon) or an RFC 3339 time."""

    feed: Label | None = None
    """The product that is fed, as its label states it. Without it the feed is taken as unknown
    salts and the answer says what that leaves open.
    """

    hours: int | None = None
    """How many hours the answer looks ahead; 36 when not given (tonight and tomorrow)."""

    plain_water: bool | None = None
    """Whether the turn is one of plain water: nobody is fed, whoever could be is misted with water
    alone, and no product is needed.
    """

    water: WaterReport | None = None
    """The water the feed is mixed with and the mister topped up with. Without it, pure water is
    assumed and the answer says so.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class AdviceResponse:
    """Advice for a collection."""

    site: str
    """The site it is for."""

    from_: str
    """Start of the time looked at, RFC 3339."""

    to: str
    """End of the time looked at, RFC 3339."""

    plants: list[PlantAdvice]
    """One entry a plant, in the order asked."""

    areas: list[AreaAdvice]
    """Each area with plants: its air, who is fed, and what would help the others."""

    cautions: list[ReasonOutput]
    """What holds for the whole answer: cautions and assumptions."""

    sources: list[Citation]
    """The works that the reasons cite."""


@dataclass(frozen=True, kw_only=True, slots=True)
class AirColumn:
    """One air movement."""

    word: AirWord
    """The word."""

    m_s: float
    """The speed it stands for, m/s."""


@dataclass(frozen=True, kw_only=True, slots=True)
class AirRequest:
    """Air to describe."""

    temp_c: float
    """Air temperature in °C."""

    rh_percent: float
    """Relative humidity over water in %."""

    pressure_kpa: float | None = None
    """Air pressure in kPa; 101.325 by default."""


@dataclass(frozen=True, kw_only=True, slots=True)
class AirResponse:
    """What the air holds. Saturation is over liquid water throughout, also below 0 °C."""

    dew_point_c: float
    """Dew point in °C."""

    wet_bulb_c: float
    """Thermodynamic wet-bulb temperature in °C."""

    vpd_kpa: float
    """Vapour pressure deficit in kPa."""

    saturation_pressure_pa: float
    """Saturation pressure at the air temperature in Pa."""

    vapour_pressure_pa: float
    """Partial pressure of water vapour in Pa."""

    humidity_ratio_kg_kg: float
    """Mass of vapour per mass of dry air in kg/kg."""

    density_kg_m3: float
    """Density of the moist air in kg/m³."""

    latent_heat_kj_kg: float
    """Latent heat of vaporisation in kJ/kg."""

    vapour_diffusivity_m2_s: float
    """Diffusivity of water vapour in m²/s."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Alone:
    """Plants that get nothing now, for one reason."""

    verdict: Verdict
    """`wait`, `water-only` or `leave`."""

    reason: Reason
    """Why."""

    plants: list[PlantRef]
    """The plants."""

    changes: list[str]
    """What would make a window, or until when to wait; empty where nothing is needed."""


@dataclass(frozen=True, kw_only=True, slots=True)
class AloneOutput:
    """Plants that get nothing now, for one reason."""

    verdict: Verdict
    """`wait`, `water-only` or `leave`."""

    reason: ReasonOutput
    """Why."""

    plants: list[PlantRef]
    """The plants."""

    changes: list[str]
    """What would make a window, or until when to wait; empty where nothing is needed."""


@dataclass(frozen=True, kw_only=True, slots=True)
class AreaAdvice:
    """An area as a whole."""

    area: str
    """The identifier."""

    name: str
    """The name in words."""

    basis: AirBasis
    """How the air of the time looked at is known: the weakest of it."""

    fed: int
    """Plants that are fed."""

    not_fed: int
    """Plants in growth and with roots that are not fed."""

    changes: list[AreaChange] | None = None
    """What would help those that are not fed, each change once, cheapest first."""

    readings_until: str | None = None
    """The last reading of its air, RFC 3339 with offset."""


@dataclass(frozen=True, kw_only=True, slots=True)
class AreaChange:
    """A change that would help plants of an area, at the figure that serves all of those it helps."""

    code: str
    """The code, kebab-case English: one of [`codes`](crate::codes)."""

    message: str
    """The change in words, with its figures."""

    plants: int
    """How many plants it would help."""

    inputs: dict[str, Any] | None = None
    """The figures, each with its unit in its name."""


@dataclass(frozen=True, kw_only=True, slots=True)
class AreaDescription:
    """One part of a site."""

    id: str
    """The identifier that plants and readings name."""

    name: str
    """The name in words."""

    shelter: Shelter
    """Under a roof, under glass, or outdoors."""

    air_m_s: float | None = None
    """Air speed in m/s used where a reading has none."""

    lamp_cycle: LampCycle | None = None
    """Lamps that are on and off in turn, instead of lamp hours."""

    lamps: list[LampRun] | None = None
    """Lamp hours; these or a cycle are required when `light` has lamps."""

    light: LightKind | None = None
    """Where its light comes from."""

    water_status: WaterStatus | None = None
    """What the plants of the area have had to drink."""

    winter: Winter | None = None
    """Whether its plants rest in the dark months; says nothing of lamp-lit areas and outdoors."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Aside:
    """An entry that the journal does not take, kept for the grower to decide."""

    entry: EntryInput
    """The entry."""

    error: Error
    """Why it was refused."""


@dataclass(frozen=True, kw_only=True, slots=True)
class AsideOutput:
    """An entry that the journal does not take, kept for the grower to decide."""

    entry: Entry
    """The entry."""

    error: ErrorOutput
    """Why it was refused."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Assumed:
    """One figure the report did not state."""

    what: str
    """Which figure, such as `na` or `ph`."""

    value: float
    """The assumed value, in `unit`."""

    unit: str
    """The unit as a UCUM code."""

    how: str
    """How it was arrived at."""


@dataclass(frozen=True, kw_only=True, slots=True)
class BlendRequest:
    """A blend of this water with softer water."""

    target: BlendTarget
    """What the blend should reach."""

    with_: WaterReport | None = None
    """The softer water's report; if omitted, it is taken as pure water and the answer says so."""


@dataclass(frozen=True, kw_only=True, slots=True)
class BlendResponse:
    """The blend that reaches the target."""

    this_water_percent: float
    """The share of this water, percent by volume."""

    softer_water_percent: float
    """The share of the softer water, percent by volume."""

    ec25_us_cm: float
    """Specific conductance of the blend, µS/cm at 25 °C."""

    alkalinity_mg_l_caco3: float
    """Alkalinity of the blend, mg/L as CaCO3."""

    hardness_mg_l_caco3: float
    """Hardness of the blend, mg/L as CaCO3."""

    residue: WaterResidue
    """What the blend leaves when it dries."""

    warnings: list[Notice] | None = None
    """What the answer rests on."""


@dataclass(frozen=True, kw_only=True, slots=True)
class BlendTargetAlkalinityMgLCaco3:
    """Alkalinity, mg/L as CaCO3."""

    alkalinity_mg_l_caco3: float


@dataclass(frozen=True, kw_only=True, slots=True)
class BlendTargetClMgL:
    """Chloride, mg/L."""

    cl_mg_l: float


@dataclass(frozen=True, kw_only=True, slots=True)
class BlendTargetEc25UsCm:
    """Specific conductance (25 °C), µS/cm."""

    ec25_us_cm: float


@dataclass(frozen=True, kw_only=True, slots=True)
class BlendTargetHardnessMgLCaco3:
    """Hardness, mg/L as CaCO3."""

    hardness_mg_l_caco3: float


@dataclass(frozen=True, kw_only=True, slots=True)
class BlendTargetNaMgL:
    """Sodium, mg/L."""

    na_mg_l: float


@dataclass(frozen=True, kw_only=True, slots=True)
class BlendTargetScaleMgLCaco3:
    """The carbonate scale the blend leaves when it dries, mg/L as CaCO3."""

    scale_mg_l_caco3: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Blocking:
    """A ceiling that keeps a target from being met."""

    ceiling: CeilingName
    """The ceiling, by its field."""

    limit: float
    """Its limit."""

    needed: float
    """What the targets would need."""

    over: float
    """How far that is over, in the ceiling's unit."""

    message: str
    """The same as a sentence."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Bounds:
    """A quantity with its bounds. `value` is absent where only the bounds are known, as with the EC
    of a feed whose counter-ions its label does not name.
    """

    low: float
    """The low end."""

    high: float
    """The high end."""

    value: float | None = None
    """The most likely value, if there is one."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Bucket:
    """What to mix, once."""

    product: str
    """The product."""

    feed_strength_mg_l: float
    """Feed strength, mg/L of dissolved feed, as it comes out after weighing on the scale."""

    n_mg_l: float
    """Nitrogen from the feed, mg/L."""

    urea_n_mg_l: float
    """Of it, urea nitrogen, which a meter does not see, mg/L."""

    water_l: float
    """Water, L."""

    ec25_us_cm: Bounds
    """Specific conductance a meter will read, µS/cm, water and feed together."""

    water_ec25_us_cm: float
    """Specific conductance of the water before anything is added, µS/cm."""

    meter_ppm: MeterPpm
    """The same reading on the TDS scales, ppm."""

    keeps_hours: float
    """Hours it may be used."""

    mass_g: float | None = None
    """Product, without its supplements, to weigh into it, g; none for a liquid, and where a stock solution is measured out."""

    mix: str | None = None
    """What the mix is called where supplements go into it: the product with their names."""

    stock: Stock | None = None
    """The stock solution to measure out, where the scale or the syringe is too coarse for the
    product itself.
    """

    surplus: Surplus | None = None
    """What is left in it when every fill is taken, and what it is good for."""

    volume_ml: float | None = None
    """Product to measure into it, mL; none for a powder, and where a stock solution is measured out."""

    weighing_error_percent: float | None = None
    """How far half a step of the scale and of the syringe moves the strength, %."""

    with_: list[BucketSupplement] | None = None
    """What is weighed or measured into it beside the product. Never into a stock solution of the
    product: calcium with sulfate or phosphate turns solid there.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class BucketOutput:
    """What to mix, once."""

    product: str
    """The product."""

    feed_strength_mg_l: float
    """Feed strength, mg/L of dissolved feed, as it comes out after weighing on the scale."""

    n_mg_l: float
    """Nitrogen from the feed, mg/L."""

    urea_n_mg_l: float
    """Of it, urea nitrogen, which a meter does not see, mg/L."""

    water_l: float
    """Water, L."""

    ec25_us_cm: Bounds
    """Specific conductance a meter will read, µS/cm, water and feed together."""

    water_ec25_us_cm: float
    """Specific conductance of the water before anything is added, µS/cm."""

    meter_ppm: MeterPpm
    """The same reading on the TDS scales, ppm."""

    keeps_hours: float
    """Hours it may be used."""

    mass_g: float | None = None
    """Product, without its supplements, to weigh into it, g; none for a liquid, and where a stock solution is measured out."""

    mix: str | None = None
    """What the mix is called where supplements go into it: the product with their names."""

    stock: Stock | None = None
    """The stock solution to measure out, where the scale or the syringe is too coarse for the
    product itself.
    """

    surplus: SurplusOutput | None = None
    """What is left in it when every fill is taken, and what it is good for."""

    volume_ml: float | None = None
    """Product to measure into it, mL; none for a powder, and where a stock solution is measured out."""

    weighing_error_percent: float | None = None
    """How far half a step of the scale and of the syringe moves the strength, %."""

    with_: list[BucketSupplement] | None = None
    """What is weighed or measured into it beside the product. Never into a stock solution of the
    product: calcium with sulfate or phosphate turns solid there.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class BucketSupplement:
    """A supplement of a bucket."""

    product: str
    """The name on its label."""

    mass_g: float | None = None
    """Mass to weigh into the bucket, g; none for a liquid, and where a stock solution is measured
    out.
    """

    stock: Stock | None = None
    """The stock solution of it to measure out."""

    volume_ml: float | None = None
    """Volume to measure into it, mL; none for a powder, and where a stock solution is measured out."""


@dataclass(frozen=True, kw_only=True, slots=True)
class CamFraction:
    """How many of the measured species show CAM."""

    share: float
    """The share, from 0 to 1."""

    cam_species: int
    """Species with CAM."""

    measured_species: int
    """Species measured."""


@dataclass(frozen=True, kw_only=True, slots=True)
class CatalogueRequest:
    """Asks for every name of the tables."""


@dataclass(frozen=True, kw_only=True, slots=True)
class CatalogueResponse:
    """Every name of the tables, for a look-up without a connection."""

    names: list[SearchMatch]
    """Every genus and other name, in alphabetical order within each kind."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Ceilings:
    """Limits that a recipe must not pass, counting feed and water together."""

    ammoniacal_n_percent: float | None = None
    """Ammoniacal N, percent of all N."""

    cl_mg_l: float | None = None
    """Chloride, mg/L."""

    ec25_us_cm: float | None = None
    """Specific conductance at 25 °C, µS/cm."""

    na_mg_l: float | None = None
    """Sodium, mg/L."""

    urea_n_percent: float | None = None
    """Urea N, percent of all N."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Change:
    """Something that would make a window, computed, or until when to wait."""

    code: str
    """The code, kebab-case English: one of [`codes`](crate::codes)."""

    message: str
    """The change in words, with its figures."""

    inputs: dict[str, Any] | None = None
    """The figures, each with its unit in its name."""

    window: WindowOutput | None = None
    """The window it would open."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Change2:
    """A recorded change of what is sprayed, or with what."""

    day: str
    """The day of the first round with it, `YYYY-MM-DD`."""

    what: Changed
    """What changed."""

    to: str
    """What it changed to."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Citation:
    """A cited work on the wire."""

    key: str
    """The key, as in the lists of sources of an answer."""

    work: str
    """Author, year, title and place of publication in one line."""

    read: Read
    """How much of it was read by the person who entered it."""

    doi: str | None = None
    """The DOI, if known."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Co2OpenPco2Atm:
    """In equilibrium with air of this partial pressure of CO2, in atm (about 4.2e-4 outdoors):
    `dic` follows and the one given is not used.
    """

    open_pco2_atm: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Conditions:
    """The air of the day and the residue modelled for it."""

    air_m_s: float | None = None
    """Air speed at the leaves in m/s, 0 to 30."""

    residue_g_m2: float | None = None
    """Modelled residue of feed salts, g/m², 0 to 20."""

    residue_log_sd: float | None = None
    """Its log-normal uncertainty (standard deviation of the natural logarithm), that of the film
    load included, 0.01 to 3.
    """

    rh_percent: float | None = None
    """Relative humidity in %, 0 to 100."""

    scale_g_m2: float | None = None
    """Modelled carbonate scale from the water alone, g/m², 0 to 20."""

    temp_c: float | None = None
    """Air temperature in °C, −5 to 50."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Contradiction:
    """Figures of a report that do not agree."""

    code: str
    """A stable code in kebab case, such as `ec-against-ions`."""

    message: str
    """What disagrees, with figures."""

    likely_off: list[str]
    """The report's fields most likely off, the likeliest first; several where they cannot be
    distinguished.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class ConvertRequest:
    """A quantity and what to convert it to."""

    quantity: str
    """The quantity as written, such as `120 ppm P2O5`, `14 °dH` or `1.4 mS/cm at 18 °C`."""

    to: str
    """The unit and basis to convert to, such as `ppm P`, `mg/L CaCO3` or `mS/cm at 25 °C`."""

    bulk_density: str | None = None
    """The bulk density of a powder, such as `0.93 g/mL` or `4.6 g/tsp`; needed between spoonfuls
    and mass, and only there.
    """

    density: str | None = None
    """The density of a liquid, such as `1.24 kg/L`; needed between shares by mass and mass per
    volume, and between volume and mass of a liquid.
    """

    ec_compensation: EcCompensation | None = None
    """How EC is brought from one temperature to another; linear by default."""

    ec_percent_per_k: float | None = None
    """The coefficient of linear compensation in per cent per kelvin, 0 to 10; 1.9 by default."""

    light_source: LightSource | None = None
    """The light source; needed between lux and photon flux density, and only there."""

    ppm_means: PpmMeaning | None = None
    """What a bare ppm means to this grower; a bare ppm is refused by default."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ConvertResponse:
    """A converted quantity."""

    value: float
    """The number in `unit`, to ten significant digits."""

    unit: str
    """The unit: a UCUM code where there is one, else the usual symbol."""

    basis: str | None
    """What it is counted as or read on: `P`, `CaCO3`, `feed`, `meter 500`, `at 25 °C`; null where
    the unit is enough.
    """

    kind: Dimension
    """The kind of quantity."""

    message: str
    """The conversion in one line."""

    from_: ReadQuantity
    """What was converted."""

    notes: list[str]
    """What was assumed or has to be known."""

    sources: list[str]
    """Where the definitions and factors are published."""


@dataclass(frozen=True, kw_only=True, slots=True)
class CurvePoint:
    """One point of the two distributions."""

    threshold_g_m2: float
    """The threshold, g/m²."""

    prior_density: float
    """Prior probability density in the natural logarithm of the threshold."""

    posterior_density: float
    """Posterior probability density in the natural logarithm of the threshold."""


@dataclass(frozen=True, kw_only=True, slots=True)
class D13cPermil:
    """Measured values of δ¹³C."""

    low: float
    """The most negative value, in ‰ against VPDB."""

    high: float
    """The least negative value, in ‰ against VPDB."""

    n: int
    """How many values (of a species) or species (of a genus)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class DayRequest:
    """A question about one date at one location."""

    latitude_deg: float
    """Latitude in degrees, north positive."""

    longitude_deg: float
    """Longitude in degrees, east positive."""

    time_zone: str
    """IANA time zone, such as `Europe/London`."""

    date: str
    """The local date, `YYYY-MM-DD`, 1900 to 2200."""

    hours: list[HourOfAir] | None = None
    """The air hour by hour, in order of time; openings are not narrowed outside it."""

    lamp_cycle: LampCycle | None = None
    """Lamps that are on and off in turn, instead of lamp hours."""

    lamps: list[LampRun] | None = None
    """Lamp hours; these or a cycle are required when `light` has lamps."""

    light: LightKind | None = None
    """Where the light comes from."""

    outdoors: bool | None = None
    """Whether the plants are in the open."""

    water_status: WaterStatus | None = None
    """What the plants have had to drink."""


@dataclass(frozen=True, kw_only=True, slots=True)
class DayResponse:
    """The sun, the light and the openings of one date."""

    date: str
    """The date."""

    time_zone: str
    """The time zone."""

    course: SunCourse
    """What the sun does on this date."""

    sunrise: str | None
    """Sunrise, RFC 3339 with offset; null if the sun does not rise."""

    sunset: str | None
    """Sunset; null if the sun does not set."""

    civil_dawn: str | None
    """Start of civil twilight in the morning (sun at −6°); null if it does not start."""

    civil_dusk: str | None
    """End of civil twilight in the evening; null if it does not end."""

    solar_noon: str | None
    """When the sun crosses the meridian."""

    lit: list[LocalSpan]
    """When the plants have light, sun or lamps."""

    dark: list[LocalSpan]
    """When they have no light."""

    openings: PathwayOpenings
    """When stomata are expected open on this date, by pathway."""


@dataclass(frozen=True, kw_only=True, slots=True)
class DayRibbonRequest:
    """A request for the ribbon of one area."""

    situation: AdviceRequest
    """The situation; its `at` is where the ribbon begins."""

    area: str | None = None
    """The area; the first of the site where not given."""


@dataclass(frozen=True, kw_only=True, slots=True)
class DayRibbonResponse:
    """A day of one area."""

    title: str
    """The site and area."""

    from_: str
    """Start, RFC 3339 with offset."""

    to: str
    """End, 24 hours later."""

    lit: list[tuple[str, str]]
    """When there is light: start and end."""

    air: list[RibbonAir]
    """The air every quarter of an hour, where it is known."""

    groups: list[RibbonGroup]
    """Plants that open alike."""

    description: list[str]
    """The ribbon in words."""


@dataclass(frozen=True, kw_only=True, slots=True)
class DeviceJournal:
    """What a device holds: entries of its own and of the journal, and how far it has read there."""

    cursor: str
    """How far the device has read the server's journal."""

    next: int
    """The order of the next entry."""

    held: dict[str, Held]
    """Its entries, by id."""

    aside: list[Aside]
    """Entries that the server's journal does not take."""


@dataclass(frozen=True, kw_only=True, slots=True)
class DeviceJournalOutput:
    """What a device holds: entries of its own and of the journal, and how far it has read there."""

    cursor: str
    """How far the device has read the server's journal."""

    next: int
    """The order of the next entry."""

    held: dict[str, HeldOutput]
    """Its entries, by id."""

    aside: list[AsideOutput]
    """Entries that the server's journal does not take."""


@dataclass(frozen=True, kw_only=True, slots=True)
class DeviceRequest:
    """What happened to the journal of a device."""

    answered: EntriesTakenInput | None = None
    """What a server answered to the entries that were sent."""

    arrived: EntriesPageInput | None = None
    """A page of the server's journal."""

    device: DeviceJournal | None = None
    """The journal as the last answer left it; an empty one where not given."""

    dropped: list[str] | None = None
    """Entries set aside that are taken out, by id."""

    record: list[Draft] | None = None
    """New entries of this device, each with its `id` and `recorded`."""


@dataclass(frozen=True, kw_only=True, slots=True)
class DeviceResponse:
    """The journal of a device, and what there is to do."""

    device: DeviceJournalOutput
    """The journal now."""

    cursor: str
    """What to ask `GET /v1/journal/entries` from."""

    waiting: int
    """Entries that no server has acknowledged."""

    send: SendEntriesOutput | None = None
    """What to send to `POST /v1/journal/entries`; none where all was acknowledged."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Dissolved:
    """What is dissolved in the spray, as analytical totals; omitted values are zero."""

    ca_mmol_l: float | None = None
    """Calcium in mmol/L."""

    cl_mmol_l: float | None = None
    """Chloride in mmol/L."""

    dic_mmol_l: float | None = None
    """Dissolved inorganic carbon (CO2, HCO3⁻, CO3²⁻) in mmol/L."""

    k_mmol_l: float | None = None
    """Potassium in mmol/L."""

    mg_mmol_l: float | None = None
    """Magnesium in mmol/L."""

    na_mmol_l: float | None = None
    """Sodium in mmol/L."""

    nh4_mmol_l: float | None = None
    """Ammoniacal nitrogen in mmol/L."""

    no3_mmol_l: float | None = None
    """Nitrate in mmol/L."""

    p_mmol_l: float | None = None
    """Orthophosphate in mmol/L of P."""

    so4_mmol_l: float | None = None
    """Sulfate in mmol/L."""

    urea_mmol_l: float | None = None
    """Urea in mmol/L of CO(NH2)2."""


@dataclass(frozen=True, kw_only=True, slots=True)
class DoneSoak:
    """A planned soak that was logged."""

    planned: str
    """Its planned start, RFC 3339."""

    entry: str
    """The entry."""

    at: str
    """When it was, RFC 3339."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Draft:
    """An entry to be recorded. An [`Entry`] in JSON is a valid draft too: that is how an export is
    imported again.
    """

    at: str
    """When it happened, RFC 3339 with the offset of the grower's clock."""

    site: str
    """The name of the site."""

    event: Event
    """What happened."""

    id: str | None = None
    """An identifier of the caller's own, 1 to 64 characters. Given twice with the same content
    the entry is recorded once, so a caller that was interrupted can simply try again. The
    journal makes one up if it is missing.
    """

    note: str | None = None
    """Free remarks, up to 10,000 characters."""

    recorded: str | None = None
    """When it was recorded, RFC 3339; now if it is missing. Only imports set it."""

    supersedes: str | None = None
    """The entry that this one corrects. The old one is kept."""

    zone: str | None = None
    """IANA time zone of the place, such as `Europe/London`; must have that offset at that time."""


@dataclass(frozen=True, kw_only=True, slots=True)
class DraftOutput:
    """An entry to be recorded. An [`Entry`] in JSON is a valid draft too: that is how an export is
    imported again.
    """

    at: str
    """When it happened, RFC 3339 with the offset of the grower's clock."""

    site: str
    """The name of the site."""

    event: EventOutput
    """What happened."""

    id: str | None = None
    """An identifier of the caller's own, 1 to 64 characters. Given twice with the same content
    the entry is recorded once, so a caller that was interrupted can simply try again. The
    journal makes one up if it is missing.
    """

    note: str | None = None
    """Free remarks, up to 10,000 characters."""

    recorded: str | None = None
    """When it was recorded, RFC 3339; now if it is missing. Only imports set it."""

    supersedes: str | None = None
    """The entry that this one corrects. The old one is kept."""

    zone: str | None = None
    """IANA time zone of the place, such as `Europe/London`; must have that offset at that time."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ElementAmount:
    """One element of a solution."""

    total: float
    """Together, mg/L."""

    from_products: float
    """From the products, mg/L."""

    from_water: float
    """From the water, mg/L."""


@dataclass(frozen=True, kw_only=True, slots=True)
class EntriesPageInput:
    """Entries of the journal from a cursor on, in the order of recording."""

    since: str
    """The cursor that was asked from."""

    entries: list[EntryInput]
    """The entries, corrected ones and retractions too."""

    cursor: str
    """The cursor to ask from next."""

    more: bool
    """Whether there are more entries after this page."""

    restarted: bool
    """Whether the cursor belongs to another life of the journal, such as before a restore: the
    page then begins with the first entry, and what is not in it and the next pages is to be
    sent again.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class EntriesTakenInput:
    """What became of the entries that were sent."""

    results: list[Taken]
    """One for each entry, in the order in which they were sent."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Entry:
    """A recorded entry."""

    id: str
    """The identifier."""

    recorded: str
    """When it was recorded, RFC 3339."""

    at: str
    """When it happened, RFC 3339 with the offset of the grower's clock."""

    site: str
    """The name of the site."""

    event: EventOutput
    """What happened."""

    note: str | None = None
    """Free remarks."""

    supersedes: str | None = None
    """The entry that this one corrects."""

    zone: str | None = None
    """IANA time zone of the place."""


@dataclass(frozen=True, kw_only=True, slots=True)
class EntryInput:
    """A recorded entry."""

    id: str
    """The identifier."""

    recorded: str
    """When it was recorded, RFC 3339."""

    at: str
    """When it happened, RFC 3339 with the offset of the grower's clock."""

    site: str
    """The name of the site."""

    event: Event
    """What happened."""

    note: str | None = None
    """Free remarks."""

    supersedes: str | None = None
    """The entry that this one corrects."""

    zone: str | None = None
    """IANA time zone of the place."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Error:
    """The error on the wire."""

    code: Code
    """The kind of fault."""

    detail: str
    """What is wrong."""

    hint: str | None = None
    """What would be right."""

    place: ErrorPlace | None = None
    """Where in a file or text."""

    pointer: str | None = None
    """JSON Pointer (RFC 6901) to the fault in the request; empty for the request as a whole."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ErrorOutput:
    """The error on the wire."""

    code: Code
    """The kind of fault."""

    pointer: str
    """JSON Pointer (RFC 6901) to the fault in the request; empty for the request as a whole."""

    detail: str
    """What is wrong."""

    hint: str
    """What would be right."""

    place: ErrorPlace | None = None
    """Where in a file or text."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ErrorPlace:
    """Where in a file, a text or on a command line a fault lies. Lines and columns count from 1,
    columns in characters.
    """

    argument: str | None = None
    """The flag or argument of a command, such as `--at`."""

    column: int | None = None
    """The column in characters, from 1."""

    file: str | None = None
    """The file, as it was named by the person who gave it."""

    line: int | None = None
    """The line, from 1."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Estimate:
    """A distribution in brief."""

    median_g_m2: float
    """Median, g/m²."""

    low_g_m2: float
    """Low end of the interval, g/m²."""

    high_g_m2: float
    """High end of the interval, g/m²."""

    log_sd: float
    """Standard deviation of the natural logarithm."""


@dataclass(frozen=True, kw_only=True, slots=True)
class EventRound:
    """Plants were misted with feed."""

    kind: Literal["round"] = "round"

    plants: list[PlantShare]
    """The plants, and the volume of each where it is known."""

    feed_strength_mg_l: float
    """Feed strength, mg/L of dissolved feed, 0 (plain water) to 10,000."""

    conditions: Conditions | None = None
    """The air of that day and what the model of the film made of it."""

    n_mg_l: float | None = None
    """Nitrogen in it, mg/L N."""

    passes: int | None = None
    """Passes over each plant, 1 to 10."""

    product: str | None = None
    """The product that was dissolved."""

    sprayer: str | None = None
    """The sprayer."""

    volume_ml: float | None = None
    """Volume sprayed over all plants and passes, in mL."""

    water: str | None = None
    """The water it was dissolved in, by the grower's own name for it."""

    wetting_agent: str | None = None
    """The wetting agent that was added; `none` where the grower has given one up."""

    window: Window | None = None
    """The window it was advised for."""


@dataclass(frozen=True, kw_only=True, slots=True)
class EventRootFeed:
    """Plants were watered with feed at the root."""

    kind: Literal["root_feed"] = "root_feed"

    plants: list[PlantShare]
    """The plants, and the volume of each where it is known."""

    feed_strength_mg_l: float
    """Feed strength, mg/L of dissolved feed, 0 to 10,000."""

    drain_mg_l: float | None = None
    """What was dissolved in that, in mg/L."""

    drain_ml: float | None = None
    """What ran out below, over all plants, in mL."""

    n_mg_l: float | None = None
    """Nitrogen in it, mg/L N."""

    product: str | None = None
    """The product that was dissolved."""

    volume_ml: float | None = None
    """Volume given over all plants, in mL."""


@dataclass(frozen=True, kw_only=True, slots=True)
class EventResidue:
    """Somebody looked for residue."""

    kind: Literal["residue"] = "residue"

    level: Level
    """How much was seen."""

    conditions: Conditions | None = None
    """Conditions and modelled residue, where they are not in the entry of the round."""

    group: str | None = None
    """A name for plants that look alike to a looker: dark glossy leaves, the mounted wall."""

    nature: Nature | None = None
    """What it is, where known."""

    place: Place | None = None
    """Where."""

    plants: list[str] | None = None
    """The plants looked at; may be empty where `group` is given."""

    round: str | None = None
    """The entry of the round it followed; where not given, the last round on the same plants."""

    wiped: bool | None = None
    """Whether the leaves had been wiped clean before the round that is looked at; taken as yes
    where not given. White on leaves that were not is white since the last wipe, from whichever
    round.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class EventFlush:
    """A pot was flushed with plain water."""

    kind: Literal["flush"] = "flush"

    plants: list[str]
    """The plants."""

    drain_mg_l: float | None = None
    """What was dissolved in that, in mg/L."""

    drain_ml: float | None = None
    """What ran out below, over all plants, in mL."""

    volume_ml: float | None = None
    """Water poured through over all plants, in mL."""


@dataclass(frozen=True, kw_only=True, slots=True)
class EventSoak:
    """A rootless plant was soaked."""

    kind: Literal["soak"] = "soak"

    plants: list[str]
    """The plants."""

    feed_strength_mg_l: float
    """Feed strength, mg/L of dissolved feed, 0 to 10,000."""

    duration_min: float
    """How long, in minutes, up to 1,440."""


@dataclass(frozen=True, kw_only=True, slots=True)
class EventResponse:
    """A plant did something."""

    kind: Literal["response"] = "response"

    plants: list[str]
    """The plants."""

    sign: Sign
    """What was seen."""


@dataclass(frozen=True, kw_only=True, slots=True)
class EventGrowth:
    """Something was counted or measured on plants, or a photo was taken."""

    kind: Literal["growth"] = "growth"

    plants: list[str]
    """The plants."""

    measure: Measure | None = None
    """What was counted or measured; required with `value`."""

    photo: str | None = None
    """The file name of a photo."""

    value: float | None = None
    """How many, or how much in the unit of the measure, on each plant. Counts are of what is new
    since the look before; 0 says that somebody looked.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class EventWipe:
    """Leaves were wiped clean."""

    kind: Literal["wipe"] = "wipe"

    plants: list[str]
    """The plants."""


@dataclass(frozen=True, kw_only=True, slots=True)
class EventTask:
    """Something is to be done by a day; the note says what."""

    kind: Literal["task"] = "task"

    due: str
    """The day it is due, `YYYY-MM-DD`."""

    every_days: int | None = None
    """Days after which it is due again once it was done; once only where absent."""

    plants: list[str] | None = None
    """The plants it is about, if any."""


@dataclass(frozen=True, kw_only=True, slots=True)
class EventDone:
    """A task was done."""

    kind: Literal["done"] = "done"

    task: str
    """The entry of the task."""


@dataclass(frozen=True, kw_only=True, slots=True)
class EventNote:
    """Only a note."""

    kind: Literal["note"] = "note"

    plants: list[str] | None = None
    """The plants it is about, if any."""


@dataclass(frozen=True, kw_only=True, slots=True)
class EventKind:
    """The entry it supersedes was a mistake and stands for nothing."""

    kind: Literal["retraction"] = "retraction"


@dataclass(frozen=True, kw_only=True, slots=True)
class EventOutputRound:
    """Plants were misted with feed."""

    kind: Literal["round"] = "round"

    plants: list[PlantShare]
    """The plants, and the volume of each where it is known."""

    feed_strength_mg_l: float
    """Feed strength, mg/L of dissolved feed, 0 (plain water) to 10,000."""

    passes: int
    """Passes over each plant, 1 to 10."""

    conditions: Conditions | None = None
    """The air of that day and what the model of the film made of it."""

    n_mg_l: float | None = None
    """Nitrogen in it, mg/L N."""

    product: str | None = None
    """The product that was dissolved."""

    sprayer: str | None = None
    """The sprayer."""

    volume_ml: float | None = None
    """Volume sprayed over all plants and passes, in mL."""

    water: str | None = None
    """The water it was dissolved in, by the grower's own name for it."""

    wetting_agent: str | None = None
    """The wetting agent that was added; `none` where the grower has given one up."""

    window: Window2Output | None = None
    """The window it was advised for."""


@dataclass(frozen=True, kw_only=True, slots=True)
class EventOutputRootFeed:
    """Plants were watered with feed at the root."""

    kind: Literal["root_feed"] = "root_feed"

    plants: list[PlantShare]
    """The plants, and the volume of each where it is known."""

    feed_strength_mg_l: float
    """Feed strength, mg/L of dissolved feed, 0 to 10,000."""

    drain_mg_l: float | None = None
    """What was dissolved in that, in mg/L."""

    drain_ml: float | None = None
    """What ran out below, over all plants, in mL."""

    n_mg_l: float | None = None
    """Nitrogen in it, mg/L N."""

    product: str | None = None
    """The product that was dissolved."""

    volume_ml: float | None = None
    """Volume given over all plants, in mL."""


@dataclass(frozen=True, kw_only=True, slots=True)
class EventOutputResidue:
    """Somebody looked for residue."""

    kind: Literal["residue"] = "residue"

    level: Level
    """How much was seen."""

    place: Place
    """Where."""

    nature: Nature
    """What it is, where known."""

    conditions: Conditions | None = None
    """Conditions and modelled residue, where they are not in the entry of the round."""

    group: str | None = None
    """A name for plants that look alike to a looker: dark glossy leaves, the mounted wall."""

    plants: list[str] | None = None
    """The plants looked at; may be empty where `group` is given."""

    round: str | None = None
    """The entry of the round it followed; where not given, the last round on the same plants."""

    wiped: bool | None = None
    """Whether the leaves had been wiped clean before the round that is looked at; taken as yes
    where not given. White on leaves that were not is white since the last wipe, from whichever
    round.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class EventOutputFlush:
    """A pot was flushed with plain water."""

    kind: Literal["flush"] = "flush"

    plants: list[str]
    """The plants."""

    drain_mg_l: float | None = None
    """What was dissolved in that, in mg/L."""

    drain_ml: float | None = None
    """What ran out below, over all plants, in mL."""

    volume_ml: float | None = None
    """Water poured through over all plants, in mL."""


@dataclass(frozen=True, kw_only=True, slots=True)
class EventOutputSoak:
    """A rootless plant was soaked."""

    kind: Literal["soak"] = "soak"

    plants: list[str]
    """The plants."""

    feed_strength_mg_l: float
    """Feed strength, mg/L of dissolved feed, 0 to 10,000."""

    duration_min: float
    """How long, in minutes, up to 1,440."""


@dataclass(frozen=True, kw_only=True, slots=True)
class EventOutputResponse:
    """A plant did something."""

    kind: Literal["response"] = "response"

    plants: list[str]
    """The plants."""

    sign: Sign
    """What was seen."""


@dataclass(frozen=True, kw_only=True, slots=True)
class EventOutputGrowth:
    """Something was counted or measured on plants, or a photo was taken."""

    kind: Literal["growth"] = "growth"

    plants: list[str]
    """The plants."""

    measure: Measure | None = None
    """What was counted or measured; required with `value`."""

    photo: str | None = None
    """The file name of a photo."""

    value: float | None = None
    """How many, or how much in the unit of the measure, on each plant. Counts are of what is new
    since the look before; 0 says that somebody looked.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class EventOutputWipe:
    """Leaves were wiped clean."""

    kind: Literal["wipe"] = "wipe"

    plants: list[str]
    """The plants."""


@dataclass(frozen=True, kw_only=True, slots=True)
class EventOutputTask:
    """Something is to be done by a day; the note says what."""

    kind: Literal["task"] = "task"

    due: str
    """The day it is due, `YYYY-MM-DD`."""

    every_days: int | None = None
    """Days after which it is due again once it was done; once only where absent."""

    plants: list[str] | None = None
    """The plants it is about, if any."""


@dataclass(frozen=True, kw_only=True, slots=True)
class EventOutputDone:
    """A task was done."""

    kind: Literal["done"] = "done"

    task: str
    """The entry of the task."""


@dataclass(frozen=True, kw_only=True, slots=True)
class EventOutputNote:
    """Only a note."""

    kind: Literal["note"] = "note"

    plants: list[str] | None = None
    """The plants it is about, if any."""


@dataclass(frozen=True, kw_only=True, slots=True)
class EventOutputKind:
    """The entry it supersedes was a mistake and stands for nothing."""

    kind: Literal["retraction"] = "retraction"


@dataclass(frozen=True, kw_only=True, slots=True)
class Evidence:
    """How well an answer is known, and from where."""

    grade: Grade
    """How well the pathway is known."""

    leaf_grade: Grade
    """How well the leaf type is known."""

    sources: list[str]
    """Keys of the works behind the pathway, as in `data/sources.csv`."""

    leaf_sources: list[str]
    """Keys of the works behind a leaf type that is reported."""

    works: list[Citation]
    """The works in full, those of the pathway first."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Evidence2:
    """A report, and what it did where that was asked for."""

    day: str
    """The day of the round it is about, `YYYY-MM-DD`. Looks of one day count as one look: they
    share the error of its model.
    """

    level: Level
    """What was seen."""

    at: str | None = None
    """When it was seen, RFC 3339."""

    entry: str | None = None
    """The entry of the journal."""

    feed_g_m2: float | None = None
    """Modelled residue of feed salts that could have been seen, g/m², 0 to 20; absent where none
    was modelled or where what was seen is scale.
    """

    feed_strength_mg_l: float | None = None
    """Feed strength of the round, mg/L, 0 to 10,000; absent where it is not known or where what
    was seen is scale, which no weaker feed prevents.
    """

    group: str | None = None
    """The group looked at."""

    influence: Influence | None = None
    """What it did; absent where it was not asked for, or is too long ago."""

    residue_log_sd: float | None = None
    """Log-normal uncertainty of both, 0.01 to 3; the usual one of a day when not given."""

    round: str | None = None
    """The round it is about."""

    scale_g_m2: float | None = None
    """Modelled carbonate scale that could have been seen, g/m², 0 to 20."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Fallback:
    """The rule of thumb by leaf, for a plant whose name does not settle the question."""

    leaf: Leaf | None
    """The leaf it was applied to, where one is known."""

    pathway: Pathway
    """What it suggests of the pathway; `unknown` without a leaf."""

    opens: Opens
    """What it suggests of the opening; `unknown` without a leaf."""

    grade: Grade
    """Always `inferred`, or `unknown` without a leaf."""

    rule: list[LeafSuggestion]
    """The whole rule."""

    hit_rate: float | None
    """The share of measured blades for which the rule is right, from 0 to 1."""

    measured_species: int
    """Species with both leaf thickness and pathway measured."""

    sources: list[str]
    """Keys of the works the share was counted from."""

    message: str
    """The rule in words, with its limits."""


@dataclass(frozen=True, kw_only=True, slots=True)
class FeedDescription:
    """A feed that is given in turn with others."""

    name: str
    """The name that the rota calls it by. `water` is plain water and no name of a feed."""

    months: list[int] | None = None
    """The months in which it is given, 1 to 12; all of them when empty. Out of its months its turns
    are passed over.
    """

    product: str | None = None
    """The product by its label: its name or a part of it; the name of the feed when not given."""

    with_: list[SupplementDescription] | None = None
    """Supplements that go into the bucket with it. Feed strength counts them."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Fill:
    """One fill of the mister."""

    left_in_mister_ml: float
    """What is still in the mister from the fill before, mL."""

    pour_out_ml: float
    """What to pour out first, because the rest is stronger than this step needs, mL."""

    feed_ml: float
    """Feed to take from the bucket, mL."""

    top_up_ml: float
    """Water to top up with, mL."""

    feed_to_eighths: float
    """How full the mister is after the feed went in, in eighths."""

    full_to_eighths: float
    """How full it is after the top-up, in eighths."""

    feed_strength_mg_l: float
    """The feed strength that this gives after rounding to the marks, mg/L."""

    spray_ml: float
    """What is sprayed from this fill, mL."""


@dataclass(frozen=True, kw_only=True, slots=True)
class FilmMoment:
    """The film at one moment."""

    minutes: float
    """Minutes since the film was laid."""

    water_g_m2: float
    """Liquid water in g/m²."""

    concentration_g_l: float
    """Everything dissolved in g/L."""

    solids_g_m2: float
    """Solid feed salts with their water of crystallisation, in g/m²."""

    leaf_temp_c: float
    """Leaf temperature in °C."""


@dataclass(frozen=True, kw_only=True, slots=True)
class FilmNotice:
    """What to know before relying on an answer."""

    code: FilmNoticeCode
    """The kind."""

    message: str
    """In a sentence."""


@dataclass(frozen=True, kw_only=True, slots=True)
class FilmRequest:
    """A film to dry. Defaults: sea-level pressure, light air, a 5 cm leaf wet on one side, no net
    radiation, 100 g/m², pure water, one pass, the shipped threshold.
    """

    temp_c: float
    """Air temperature in °C."""

    rh_percent: float
    """Relative humidity in %."""

    air_m_s: float | None = None
    """Air speed at the leaf in m/s."""

    air_words: AirWord | None = None
    """A word for the air movement, instead of the speed."""

    composition: Dissolved | None = None
    """What is dissolved in the spray, feed and water together."""

    course: bool | None = None
    """Include the time course."""

    driest_rh_percent: float | None = None
    """Relative humidity in % of the driest air the leaf sees before the next spraying; by default
    that of the drying.
    """

    leaf_cm: float | None = None
    """Leaf dimension along the air flow in cm."""

    load_g_m2: float | None = None
    """Film load after run-off per wet side in g/m²."""

    net_radiation_w_m2: float | None = None
    """Net radiation absorbed by the leaf in W/m²."""

    passes: int | None = None
    """Passes of the feed, each laid when the one before has dried."""

    plain_water_pass: bool | None = None
    """A last pass of pure water."""

    pressure_kpa: float | None = None
    """Air pressure in kPa."""

    stiff_leaf: bool | None = None
    """The leaf is too stiff to flutter in wind; a fluttering leaf dries up to 1.4 times faster."""

    threshold_g_m2: float | None = None
    """This grower's residue threshold in g/m² instead of the shipped one."""

    wet_sides: WetSides | None = None
    """Sides of the leaf that are wet."""

    wetting_agent: bool | None = None
    """A wetting agent is in the spray."""


@dataclass(frozen=True, kw_only=True, slots=True)
class FilmResponse:
    """How one film dries and what it leaves."""

    dry_minutes: float | None
    """Minutes until the leaf is dry to the touch (1 % of the water or 1 g/m² is left, whichever is
    less; no water for pure water); null if it stays wet.
    """

    state: FilmState
    """What is on the leaf in the end: `wet` (all salts dissolved), `partly-solid`, `dry`."""

    residue_g_m2: float
    """Solids left, feed salts and scale together, in g/m² of a wet side."""

    feed_residue_g_m2: float
    """Of which feed salts."""

    scale_residue_g_m2: float
    """Of which carbonate scale of the water."""

    residue_low_g_m2: float
    """About 1 chance in 10 that less is left."""

    residue_high_g_m2: float
    """About 1 chance in 10 that more is left."""

    residue_probability: float
    """Probability that the grower sees it, 0 to 1."""

    peak_concentration_g_l: float
    """Highest concentration of everything dissolved that the film passes through, in g/L."""

    strength_mg_l: float
    """Feed strength with what the water brings, in mg/L (scale formers as carbonates)."""

    scale_mg_l: float
    """Carbonate scale of the water, in mg/L of the spray."""

    liquid_left_g_m2: float
    """Liquid water left at equilibrium with the air, in g/m²."""

    stays_wet_above_percent: float
    """Humidity at and above which every feed salt stays dissolved, in %."""

    dry_below_percent: float
    """Humidity below which nothing liquid is left, in %; 0 if the mix does not dry in any room."""

    first_solid: str | None
    """The soluble salt that forms first as the film dries."""

    taken_up_g_m2: float
    """What the leaf takes up of the feed in g/m², uncertain by a factor of about 3."""

    leaf_temp_c: float
    """Lowest temperature of the leaf in °C."""

    root_drop_peak_g_l: float
    """Highest concentration of a drop that hangs at a root tip, in g/L."""

    root_drop_minutes_above_limit: float | None
    """Minutes that drop is above the burn limit; null if it stays so."""

    burn_limit_g_l: float
    """The burn limit in g/L."""

    burn_risk: bool
    """The root tip is at risk."""

    charge_imbalance_percent: float
    """Charge of the composition that could not be closed and was omitted, in % of all charges;
    positive for an excess of cations.
    """

    course: list[FilmMoment] | None = None
    """The time course, if asked for."""

    notices: list[FilmNotice] | None = None
    """What to know before relying on the answer."""


@dataclass(frozen=True, kw_only=True, slots=True)
class GenusRequest:
    """Asks when a plant opens its stomata."""

    query: str
    """The name of the plant as on its label: a genus, species, hybrid genus, old name or
    abbreviation, with or without epithet and cultivar.
    """

    leaf: Leaf | None = None
    """The leaf of the plant, used if its name does not settle the question."""


@dataclass(frozen=True, kw_only=True, slots=True)
class GenusResponse:
    """When a plant opens its stomata, how sure that is, and who measured it."""

    query: str
    """The query as given."""

    outcome: Outcome
    """Whether the name was understood."""

    name: str | None
    """The accepted name, where it was."""

    rank: Rank
    """What kind of taxon it is."""

    pathway: Pathway
    """How it fixes carbon."""

    opens: Opens
    """When its leaf stomata are expected open. `unknown` for a leafless plant, which has no leaf
    opening.
    """

    opens_peak: PeakTime | None
    """The time of day of the widest opening, where it was measured."""

    evidence: Evidence
    """How well this is known, and from where."""

    leaf: Leaf
    """The type of leaf."""

    leafless: bool
    """Whether it has no leaf blade, so that roots or stems take up the feed."""

    leaf_mm: LeafMm | None
    """Measured leaf thickness."""

    d13c_permil: D13cPermil | None
    """Measured δ¹³C."""

    chance: PathwayChance | None
    """How likely each pathway is, where the rule has something to go by."""

    cam_fraction: CamFraction | None
    """How many of the measured species of the genus show CAM."""

    habit: Habit
    """Where it grows."""

    subfamily: str | None
    """Subfamily, of a genus or species."""

    tribe: str | None
    """Tribe, where placed."""

    subtribe: str | None
    """Subtribe, where placed."""

    via: Via | None
    """The other name that led here."""

    corrected_to: str | None
    """For a name that is not spelt as in the tables: the name it was read as."""

    candidates: list[TaxonBrief]
    """What the name may mean, likeliest first; beside a misspelt name that was found, what else
    it may have meant.
    """

    parents: list[TaxonBrief]
    """The parents of a hybrid."""

    records: list[ObservationOutput]
    """Published records of the species."""

    stomata: list[StomataCount]
    """Stomata counted on the sides of its leaves, of a species."""

    notes: list[str]
    """Remarks of the tables and on how the answer was reached."""

    fallback: Fallback | None
    """The rule by leaf, where the name does not settle the question."""

    message: str
    """The answer in plain words."""


@dataclass(frozen=True, kw_only=True, slots=True)
class GivenRequest:
    """A sitting of a plan and what was done differently."""

    plan: RoundResponseInput
    """The plan of the round."""

    id: str
    """An identifier of the caller's own, 1 to 48 characters; each entry has it with its number."""

    recorded: str
    """When it is recorded, RFC 3339."""

    at: str | None = None
    """When it was done, RFC 3339 with offset; the start of the sitting where not given."""

    left_out: list[str] | None = None
    """Plants that were not sprayed."""

    note: str | None = None
    """Free remarks, up to 10,000 characters, for each entry."""

    sitting: int | None = None
    """The sitting that was done, counted from 0."""

    steps: list[GivenStep] | None = None
    """Steps that were done differently."""

    zone: str | None = None
    """IANA time zone of the place; left out of an entry whose time has another offset."""


@dataclass(frozen=True, kw_only=True, slots=True)
class GivenRounds:
    """The entries of a sitting that was done."""

    entries: list[Entry]
    """One for each strength and air, checked, to be recorded."""


@dataclass(frozen=True, kw_only=True, slots=True)
class GivenStep:
    """A step of a sitting that was done differently."""

    step: int
    """The step, counted from 0."""

    feed_strength_mg_l: float | None = None
    """The feed strength that was given, mg/L of dissolved feed; as planned where not given."""

    volume_ml: float | None = None
    """The volume that was sprayed, mL, shared as planned; as planned where not given."""


@dataclass(frozen=True, kw_only=True, slots=True)
class GroupStrength:
    """What the journal proposes for some plants."""

    plants: list[str]
    """The plants, by id. Ids that are not in the collection do no harm."""

    next_strength_after_white_at_mg_l: float | None = None
    """The strength that left white, mg/L, where that is why."""

    next_strength_mg_l: float | None = None
    """The highest strength for the next round, mg/L; what practice gives where absent."""


@dataclass(frozen=True, kw_only=True, slots=True)
class GrowerSettings:
    """What the grower has to work with and is willing to accept."""

    feed: str | None = None
    """The product that is fed where several labels are given: its name or a part of it."""

    logs_only_white: bool | None = None
    """Whether the grower logs white only, so that a round without a look was probably clean. The
    journal counts such rounds as half a clean look.
    """

    minutes_per_fill: float | None = None
    """Minutes to measure and mix one fill of the mister; that of the practice table when not given."""

    mister_ml: float | None = None
    """What a full mister holds, in millilitres."""

    next_strength_after_white_at_mg_l: float | None = None
    """The strength that left white, mg/L, where that is why the journal proposes no more."""

    next_strength_mg_l: float | None = None
    """The highest strength that the journal proposes for the next round, mg/L: no plant gets more."""

    next_strengths: list[GroupStrength] | None = None
    """What the journal proposes for plants that are looked at as a group of their own, instead
    of the strength above.
    """

    residue_threshold_g_m2: float | None = None
    """The grower's own residue threshold, in g/m², where it has been learned."""

    residue_threshold_log_sd: float | None = None
    """The standard deviation of its natural logarithm; that of the shipped threshold when not
    given.
    """

    residue_threshold_looks: int | None = None
    """How many looks at dry leaves it was learned from."""

    rota: list[str] | None = None
    """The turns in their order, each the name of a feed, or `water` for plain water. After the last
    comes the first again. The feeds in their order when empty.
    """

    scale_g: float | None = None
    """The smallest mass the grower's scale shows, in grams."""

    seconds_per_plant: float | None = None
    """Seconds to find and spray one plant once; that of the practice table when not given."""

    tolerance: float | None = None
    """The probability of visible residue the grower accepts, 0.01 to 0.5."""

    water: str | None = None
    """The water that feeds are mixed with where several reports are given: its name or a part of
    it.
    """

    working_hours: list[WorkingHours] | None = None
    """When the grower can be with the plants, local time; empty means at any hour."""


@dataclass(frozen=True, kw_only=True, slots=True)
class GrowthMonth:
    """What was counted and measured on one plant in one month."""

    month: str
    """The month, such as `2026-06`."""

    new_roots: int
    """New roots."""

    new_leaves: int
    """New leaves."""

    new_pseudobulbs: int
    """New pseudobulbs or growths."""

    flowers: int
    """Flowers that opened."""

    lost_leaves: int
    """Leaves that were lost."""

    leaf_length_mm: float | None = None
    """The length of the longest leaf as last measured, mm."""

    weight_g: float | None = None
    """The weight as last measured, g."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Guaranteed:
    """The guaranteed analysis, in percent. Each nutrient may be given as the oxide or as the
    element, and the field name says which; where both are given they must agree.
    """

    ammoniacal_n_percent: float | str | None = None
    """Ammoniacal nitrogen, % N."""

    b_percent: float | str | None = None
    """Boron, % B."""

    ca_percent: float | str | None = None
    """Calcium, % Ca."""

    cao_percent: float | str | None = None
    """Calcium oxide, % CaO."""

    cl_percent: float | str | None = None
    """Chloride, % Cl."""

    co_percent: float | str | None = None
    """Cobalt, % Co."""

    cu_percent: float | str | None = None
    """Copper, % Cu."""

    fe_percent: float | str | None = None
    """Iron, % Fe."""

    k2o_percent: float | str | None = None
    """Soluble potash, % K2O."""

    k_percent: float | str | None = None
    """Potassium on the elemental basis, % K."""

    mg_percent: float | str | None = None
    """Magnesium, % Mg."""

    mgo_percent: float | str | None = None
    """Magnesium oxide, % MgO."""

    mn_percent: float | str | None = None
    """Manganese, % Mn."""

    mo_percent: float | str | None = None
    """Molybdenum, % Mo."""

    n_percent: float | str | None = None
    """Total nitrogen, % N. May be omitted if all its forms are given."""

    na2o_percent: float | str | None = None
    """Sodium oxide, % Na2O."""

    na_percent: float | str | None = None
    """Sodium, % Na."""

    nitrate_n_percent: float | str | None = None
    """Nitrate nitrogen, % N."""

    other_n_percent: float | str | None = None
    """Nitrogen in other forms (organic, amino acids, other water-soluble), % N."""

    p2o5_percent: float | str | None = None
    """Available phosphate, % P2O5."""

    p_percent: float | str | None = None
    """Phosphorus on the elemental basis, % P."""

    s_percent: float | str | None = None
    """Sulfur, % S."""

    si_percent: float | str | None = None
    """Silicon, % Si."""

    sio2_percent: float | str | None = None
    """Silicon dioxide, % SiO2."""

    so3_percent: float | str | None = None
    """Sulfur trioxide, % SO3."""

    urea_n_percent: float | str | None = None
    """Urea (ureic) nitrogen, % N."""

    zn_percent: float | str | None = None
    """Zinc, % Zn."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Guard:
    """The rule after white: at most half of the strength that left it, and up again in steps after
    clean looks.
    """

    ceiling_mg_l: float
    """The strength it allows, mg/L."""

    white_on: str
    """The day of the last white that lowered it, `YYYY-MM-DD`."""

    white_at_mg_l: float
    """The strength that left it, mg/L."""

    clean_looks: float
    """Clean looks since it last changed; half of one for a round that is counted as clean."""

    clean_looks_needed: float
    """Clean looks after which it goes up by a step."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Headroom:
    """How much feed fits under the ceiling."""

    ceiling_ec25_us_cm: float
    """The ceiling asked for, µS/cm at 25 °C."""

    ec25_us_cm: float
    """The ceiling less the water's own, µS/cm at 25 °C; negative where the water alone is over."""

    feed_strength_mg_l: Bounds | None = None
    """The feed strength that reaches the ceiling in this water, mg/L, where a label was given."""

    n_mg_l: Bounds | None = None
    """The nitrogen at that feed strength, mg/L as N."""


@dataclass(frozen=True, kw_only=True, slots=True)
class HeadroomRequest:
    """How much feed fits under a ceiling of EC."""

    ceiling_ec25_us_cm: float
    """The highest specific conductance (25 °C) of water and feed together, µS/cm."""

    label: Label | None = None
    """The product, so that the headroom can be stated as feed strength too."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Held:
    """An entry on a device."""

    order: int
    """The order in which the device got its entries; a correction comes after what it corrects."""

    state: HeldState
    """How far it is on its way."""

    entry: EntryInput
    """The entry."""


@dataclass(frozen=True, kw_only=True, slots=True)
class HeldOutput:
    """An entry on a device."""

    order: int
    """The order in which the device got its entries; a correction comes after what it corrects."""

    state: HeldState
    """How far it is on its way."""

    entry: Entry
    """The entry."""


@dataclass(frozen=True, kw_only=True, slots=True)
class HourOfAir:
    """The air of one hour."""

    start: str
    """When the hour starts, RFC 3339 with offset."""

    temp_c: float
    """Air temperature in °C."""

    vpd_kpa: float
    """Vapour pressure deficit in kPa."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Influence:
    """What one report did to the threshold."""

    pull_percent: float
    """How far the median of now is moved because of it: with it over without it, less 1, in %."""

    odd_day: float
    """The probability that the model of its day was far out."""


@dataclass(frozen=True, kw_only=True, slots=True)
class IonsMgL:
    """Totals in mg/L, each weighed as its field says; omitted values are zero."""

    ca: float | None = None
    """Calcium, as Ca."""

    cl: float | None = None
    """Chloride, as Cl."""

    dic: float | None = None
    """Total inorganic carbon, as C."""

    k: float | None = None
    """Potassium, as K."""

    mg: float | None = None
    """Magnesium, as Mg."""

    na: float | None = None
    """Sodium, as Na."""

    nh4: float | None = None
    """Ammoniacal nitrogen, as NH4."""

    no3: float | None = None
    """Nitrate, as NO3."""

    p: float | None = None
    """Total phosphate, as P."""

    so4: float | None = None
    """Sulfate, as SO4."""

    urea: float | None = None
    """Urea, as CO(NH2)2."""


@dataclass(frozen=True, kw_only=True, slots=True)
class IonsMmolL:
    """Totals in mmol/L; omitted values are zero."""

    ca: float | None = None
    """Calcium."""

    cl: float | None = None
    """Chloride."""

    dic: float | None = None
    """Total inorganic carbon, CO2, HCO3 and CO3."""

    k: float | None = None
    """Potassium."""

    mg: float | None = None
    """Magnesium."""

    na: float | None = None
    """Sodium."""

    nh4: float | None = None
    """Ammoniacal nitrogen, NH4 and NH3."""

    no3: float | None = None
    """Nitrate."""

    p: float | None = None
    """Total phosphate, H3PO4 to PO4."""

    so4: float | None = None
    """Sulfate."""

    urea: float | None = None
    """Urea."""


@dataclass(frozen=True, kw_only=True, slots=True)
class IrrigationClass:
    """One guideline for irrigation water."""

    hazard: IrrigationHazard
    """What the guideline is about."""

    value: float
    """The figure that is compared, in `unit`."""

    unit: str
    """The unit as a UCUM code."""

    restriction: Restriction
    """The degree of restriction on use."""

    sources: list[str]
    """Keys of the works it rests on."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Label:
    """The label of one product."""

    name: str
    """The name on the label."""

    guaranteed: Guaranteed
    """The guaranteed analysis."""

    bulk_density_kg_l: float | str | None = None
    """Mass of one litre of the loose powder, kg/L (0.2–2), needed for spoons: weigh a level
    spoonful and divide its grams by its millilitres.
    """

    density_kg_l: float | str | None = None
    """Density of a liquid, kg/L (0.8–2)."""

    derived_from: list[str] | None = None
    """The materials after "derived from", one each."""

    foliar: bool | None = None
    """Whether the label allows use on leaves; omitted if it says nothing."""

    form: Form | None = None
    """Powder or liquid."""

    form_assumed: bool | None = None
    """Whether the form was assumed, because the text of the label does not state it."""

    percent_of: PercentOf | None = None
    """Whether percentages are of mass or, for a liquid, of volume."""

    shelf: str | None = None
    """Notes on keeping the product (moisture, age, frost), shown with its recipes."""

    soluble_percent: float | str | None = None
    """How much of the product dissolves and stays dissolved as solids, in percent of what
    `percent_of` names. If omitted: 100 for a powder; for a liquid the sum of the ions and urea
    its analysis accounts for.
    """

    with_: list[Supplement] | None = None
    """Supplements that always go into the bucket with it, each in proportion; feed strength counts
    them.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class LampCycle:
    """Lamps that are on and off in turn, whatever the clock says."""

    start: str
    """When one of the light periods begins, RFC 3339 with offset."""

    light_h: float
    """Length of the light in hours."""

    dark_h: float
    """Length of the dark in hours."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LampRun:
    """One run of the lamps each day; `off` earlier than `on` runs over midnight."""

    on: str
    """When the lamps go on, local time, `HH:MM`."""

    off: str
    """When they go off, local time, `HH:MM`; `24:00` is the end of the day."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LeafMm:
    """Measured leaf thickness."""

    low: float
    """The thinnest, in mm."""

    high: float
    """The thickest, in mm."""

    n: int
    """How many were measured, 0 where not stated."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LeafSuggestion:
    """What one type of leaf suggests."""

    leaf: Leaf
    """The type of leaf."""

    pathway: Pathway
    """What it suggests of the pathway."""

    opens: Opens
    """What it suggests of the opening."""

    cam_fraction: CamFraction | None
    """How the measured species with such a leaf turned out."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Ledger:
    """What each plant got and what is due."""

    from_: str
    """The first day."""

    at: str
    """The moment it was drawn up for, RFC 3339."""

    plants: list[PlantLedger]
    """The plants: those of the request in its order, then others of the journal by name."""

    assumed: list[ReasonOutput]
    """What was taken for granted."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LedgerRequest:
    """A request for the ledger."""

    entries: list[EntryInput]
    """What was done and seen, in any order; at most 100,000."""

    at: str
    """The moment it is drawn up for, RFC 3339 with offset; later entries are omitted."""

    from_: str | None = None
    """The first day, `YYYY-MM-DD`; that of the first entry when not given."""

    plants: list[PlantEntry] | None = None
    """The plants of the collection. A plant that is only in the journal is listed too, without
    what its setting and standing would tell.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class LocalSpan:
    """A span of local time."""

    start: str
    """When it starts, RFC 3339 with offset."""

    end: str
    """When it ends."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LookWanted:
    """A request for looks."""

    of_rounds: int
    """Of the last days with a round, so many."""

    clean_looks: int
    """Have a clean look."""

    wanted: int
    """Should have one."""


@dataclass(frozen=True, kw_only=True, slots=True)
class MeterPpm:
    """A specific conductance as the three ppm scales show it."""

    scale_500: Bounds
    """The 500 scale (factor 0.5)."""

    scale_640: Bounds
    """The 640 scale (factor 0.64)."""

    scale_700: Bounds
    """The 700 scale (factor 0.7)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class MeterReadingEcUsCm:
    """Conductivity, µS/cm."""

    ec_us_cm: float


@dataclass(frozen=True, kw_only=True, slots=True)
class MeterReadingPpm500:
    """ppm on the 500 scale."""

    ppm500: float


@dataclass(frozen=True, kw_only=True, slots=True)
class MeterReadingPpm640:
    """ppm on the 640 scale."""

    ppm640: float


@dataclass(frozen=True, kw_only=True, slots=True)
class MeterReadingPpm700:
    """ppm on the 700 scale."""

    ppm700: float


@dataclass(frozen=True, kw_only=True, slots=True)
class MeterRequest:
    """A question to a meter reading."""

    label: Label
    """The product that was dissolved."""

    reading: MeterReading
    """What the meter showed."""

    accuracy_percent: float | None = None
    """How far the meter may be off, percent; the parameter `meter_accuracy` if omitted."""

    uncompensated_at_c: float | None = None
    """The temperature of the solution, °C, for a meter without temperature compensation; if
    omitted, the reading refers to 25 °C.
    """

    water: WaterReport | None = None
    """The water it was dissolved in; pure water if omitted."""


@dataclass(frozen=True, kw_only=True, slots=True)
class MeterResponse:
    """What a reading says of the feed."""

    ec25_us_cm: float
    """The reading as specific conductance, µS/cm at 25 °C."""

    water_ec25_us_cm: float
    """The water's own part of it, µS/cm at 25 °C."""

    feed_strength_mg_l: Bounds
    """Feed strength, mg/L."""

    n_mg_l: Bounds
    """Total N from the feed, mg/L (ppm N), urea included."""

    urea_n_mg_l: Bounds
    """Of that, the urea N, which the meter does not see: it follows from the label alone."""

    warnings: list[Notice]
    """What a reader should know."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ModelledResidue:
    """What a film leaves and the air that decides it; what a journal keeps to learn from."""

    feed_g_m2: float
    """Feed salts left, g/m² of wet leaf surface."""

    scale_g_m2: float
    """Carbonate scale from the water, g/m²."""

    temp_c: float
    """Air temperature at the driest hour, °C."""

    rh_percent: float
    """Relative humidity at the driest hour, %."""

    air_m_s: float | None = None
    """Air speed at the driest hour, m/s; none where it is not known."""

    feed_log_sd: float | None = None
    """How far the feed salts vary between days that read the same: the standard deviation of their
    natural logarithm; none where none are left.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class NextStrength:
    """The next feed strength: what the reports allow, and what is proposed."""

    reason: StrengthReason
    """What decides the proposal."""

    usual_days: int
    """Usual days it was judged on."""

    tolerance: float
    """The probability that is accepted."""

    cap_mg_l: float
    """The strength that the plants may get at most, mg/L."""

    allowed_mg_l: float | None = None
    """The highest strength on the usual days whose probability of visible residue is within the
    tolerance, mg/L, at most the cap. Absent where even the least useful one is too likely to
    be seen, or where there are no usual days.
    """

    guard: Guard | None = None
    """The rule after white, while it holds the strength below the cap."""

    look_wanted: LookWanted | None = None
    """Asks for looks where the last rounds have too few clean ones."""

    probability: float | None = None
    """Probability of visible residue at the proposed strength; with plain water where none is
    proposed; absent without usual days.
    """

    probability_at_present: float | None = None
    """Probability of visible residue at the present strength, where that was asked for."""

    probability_least_useful: float | None = None
    """Probability of visible residue at the least useful strength; absent without usual days."""

    probability_without_feed: float | None = None
    """Probability of visible residue with water alone; absent without usual days."""

    proposed_mg_l: float | None = None
    """The strength to give next, mg/L: what the reports allow, or less where white was seen.
    Absent where plain water is proposed.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class NextStrengthRequest:
    """What the next strength is asked for."""

    cap_mg_l: float | None = None
    """The strength that the plants may get at most, mg/L, 25 to 10,000; that of an established
    plant when not given.
    """

    present_mg_l: float | None = None
    """A strength whose own probability is asked for as well, mg/L, 0 to 10,000: the present one."""

    tolerance: float | None = None
    """Probability of visible residue that is accepted, 0.01 to 0.5; 0.1 when not given."""

    usual_days: list[UsualDay] | None = None
    """The usual days: one for each of the last rounds, at most 100. Without any the reports
    cannot say what they allow.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class NitrogenForms:
    """The forms of nitrogen, mg/L as N."""

    nitrate: float
    """Nitrate N."""

    ammoniacal: float
    """Ammoniacal N."""

    urea: float
    """Urea N, which no conductivity meter sees."""

    other: float
    """N whose form the label does not state."""


@dataclass(frozen=True, kw_only=True, slots=True)
class NotUsed:
    """An entry that told nothing about the threshold."""

    entry: str
    """The entry."""

    why: str
    """Why."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Notice:
    """Something the reader of an answer should know: a warning, an assumption, a caution."""

    code: NoticeCode
    """What it is about, such as `urea-invisible`."""

    message: str
    """The sentence for a reader."""

    sources: list[str] | None = None
    """Keys of the works it rests on (`data/sources.csv`); empty for common practice."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Observation:
    """One report of residue with what was modelled for the round it is about."""

    day: str
    """The day of the round it is about, `YYYY-MM-DD`. Looks of one day count as one look: they
    share the error of its model.
    """

    level: Level
    """What was seen."""

    at: str | None = None
    """When it was seen, RFC 3339."""

    entry: str | None = None
    """The entry of the journal."""

    feed_g_m2: float | None = None
    """Modelled residue of feed salts that could have been seen, g/m², 0 to 20; absent where none
    was modelled or where what was seen is scale.
    """

    feed_strength_mg_l: float | None = None
    """Feed strength of the round, mg/L, 0 to 10,000; absent where it is not known or where what
    was seen is scale, which no weaker feed prevents.
    """

    group: str | None = None
    """The group looked at."""

    residue_log_sd: float | None = None
    """Log-normal uncertainty of both, 0.01 to 3; the usual one of a day when not given."""

    round: str | None = None
    """The round it is about."""

    scale_g_m2: float | None = None
    """Modelled carbonate scale that could have been seen, g/m², 0 to 20."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ObservationOutput:
    """One published record of a species."""

    record: str
    """The record as in `data/observations.csv`; it never changes."""

    organ: Organ
    """The part measured."""

    d13c_permil: float | None
    """δ¹³C in ‰ against VPDB."""

    leaf_mm: float | None
    """Leaf thickness in mm."""

    acid_rise_umol_g: float | None
    """Rise of titratable acidity over the night, in µmol H⁺ per g fresh weight."""

    acid_rise_significant: bool | None
    """Whether the work calls that rise significant."""

    pathway: Pathway
    """What the record says of the pathway."""

    grade: Grade
    """How well this record knows it."""

    method: str
    """How it was determined."""

    sources: list[str]
    """Keys of the works: the primary one, then the compilation it was read in."""

    notes: str
    """Remarks."""


@dataclass(frozen=True, kw_only=True, slots=True)
class OpeningEntry:
    """One opening."""

    start: str
    """When it starts, RFC 3339 with offset."""

    end: str
    """When it ends."""

    phase: Phase
    """Which opening it is."""

    part: PeakTime | None
    """The part of the day or night."""

    either_pathway: bool
    """Open by C3 and by CAM alike."""

    probability: float
    """The probability that the stomata are open, 0 to 1: a judgement, not a measured frequency."""

    rank: int
    """How practice ranks it: 1 is best, from 4 on practice is against it."""

    rank_code: ClockCode
    """The code of that rank."""

    reasons: list[ReasonEntry]
    """Why."""


@dataclass(frozen=True, kw_only=True, slots=True)
class OpeningList:
    """The openings of one plant."""

    openings: list[OpeningEntry]
    """The openings in order of time."""

    reasons: list[ReasonEntry]
    """What holds for the date as a whole."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PathwayChance:
    """How likely each pathway is, by the declared rule from the values of the taxon, its relatives and
    its leaf. The three add up to 1.
    """

    c3: float
    """The probability of C3, from 0 to 1."""

    weak_cam: float
    """The probability of weak or facultative CAM, from 0 to 1."""

    cam: float
    """The probability of CAM, from 0 to 1."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PathwayOpenings:
    """The openings of a date by pathway."""

    c3: OpeningList
    """A C3 leaf."""

    cam: OpeningList
    """A CAM leaf."""

    facultative: OpeningList
    """A plant that turns from C3 to CAM when short of water."""

    unknown: OpeningList
    """A plant of unknown pathway."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PhotoTaken:
    """A photo of a plant."""

    file: str
    """The name of its file."""

    at: str
    """When, RFC 3339."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PlantAdvice:
    """Advice for one plant."""

    id: str
    """The grower's identifier."""

    name: str
    """The name as given."""

    taken_for: str
    """The name it was taken for."""

    area: str
    """The area."""

    verdict: Verdict
    """What to do."""

    pathway: Pathway
    """How it takes up CO2."""

    opens: Opens
    """When its stomata open."""

    openings: list[PlantOpening]
    """The openings in the time looked at."""

    windows: list[WindowOutput]
    """The windows, best first; the second is the runner-up."""

    feed_strength_mg_l: float | None
    """Feed strength of the best window, mg/L of dissolved feed; 0 for plain water; none where
    the plant is left alone.
    """

    passes: int
    """Passes in the round."""

    interval_days: float
    """Days until the next round at the earliest."""

    residue_probability: float | None
    """Probability of visible residue in the best window."""

    reasons: list[ReasonOutput]
    """Why, the weightiest first."""

    unknowns: list[Unknown]
    """What was not known, what matters most first."""

    changes: list[Change] | None = None
    """Where nothing is fed: what would make it possible, and until when to wait, cheapest first."""

    due: str | None = None
    """When it is next due, RFC 3339, where the history tells."""

    near_limits: list[ReasonOutput] | None = None
    """Limits within the error of the instruments, and what lies beyond them."""

    until: str | None = None
    """Where the verdict is to wait: until when, RFC 3339 or a date, where that is known."""

    weekly: WeeklyDose | None = None
    """What the pot gets in a week from leaf and root."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PlantEntry:
    """One plant of the collection."""

    id: str
    """The grower's own identifier, unique in the collection."""

    name: str
    """Genus, species or hybrid as written on the label of the plant."""

    area: str
    """The area it stands in."""

    setting: Setting
    """How it is grown."""

    standing: Standing
    """How strong it is."""

    bench: str | None = None
    """The bench or shelf of the area it stands on: plants of one bench are sprayed one after
    another.
    """

    growth: Growth | None = None
    """Whether it is in active growth; root tips count as growth."""

    last_fed: str | None = None
    """When it was last fed through the leaf, RFC 3339 or a date."""

    last_flush: str | None = None
    """When its pot was last flushed with plain water, RFC 3339 or a date."""

    leaf: Leaf | None = None
    """What its leaf is like, for a name with no record or a genus that varies."""

    leaf_area_cm2: float | None = None
    """Leaf area of one side in cm², where measured; overrides `size`."""

    notes: str | None = None
    """Free remarks."""

    pot_l: float | None = None
    """Volume of its pot in litres."""

    root_feed_mg_week: float | None = None
    """Feed given at the root each week, in mg of dissolved feed."""

    size: SizeClass | None = None
    """How large it is."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PlantLedger:
    """What one plant got."""

    id: str
    """The grower's identifier."""

    weeks: list[PlantWeek]
    """Its weeks, Monday to Sunday (ISO 8601), without gaps."""

    given_mg: float
    """Dissolved feed it got through leaf and root in the whole time, mg."""

    drained_mg: float
    """Dissolved matter measured in what ran out below, mg."""

    given_since_flush_mg: float
    """Dissolved feed it got since its last flush, or since the first day, mg."""

    flushes_not_measured: int
    """Flushes whose drain was not measured."""

    warnings: list[ReasonOutput]
    """What the practice table warns of."""

    days_since_fed: int | None = None
    """Whole days since."""

    days_since_flush: int | None = None
    """Whole days since."""

    flush_due: str | None = None
    """The day on which the next flush is due; only for a pot."""

    growth: list[GrowthMonth] | None = None
    """What was counted and measured on it, by month, from the first entry on."""

    growth_says: list[ReasonOutput] | None = None
    """What that tells, and how long to wait before it tells more."""

    last_fed: str | None = None
    """The last feed through the leaf, RFC 3339 or a date."""

    last_flush: str | None = None
    """The last flush, RFC 3339 or a date."""

    lost: str | None = None
    """When it died, if it did."""

    name: str | None = None
    """The name in the collection; absent for a plant that is only in the journal."""

    next_due: str | None = None
    """The day from which the next feed through the leaf is due."""

    photos: list[PhotoTaken] | None = None
    """Photos, in the order of time."""

    products: list[ProductGiven] | None = None
    """What it was sprayed and fed with in the whole time, by product, the last given first."""

    signs: list[SeenSign] | None = None
    """Signs that were logged, in the order of time."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PlantOpening:
    """An interval in which the stomata of a plant are expected open."""

    start: str
    """Start, RFC 3339."""

    end: str
    """End, RFC 3339."""

    phase: Phase
    """Which opening of the day it is."""

    probability: float
    """How probable it is that this plant opens then, 0 to 1."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PlantRef:
    """A plant by its identifier and name."""

    id: str
    """The grower's identifier."""

    name: str
    """The name as given."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PlantReview:
    """The review of one plant."""

    account: PlantLedger
    """What it got."""

    looks: list[int]
    """Looks for residue on its leaves in that time, by what was seen: none, faint, clear, heavy."""

    finding: Finding
    """Whether its strength is right."""

    strength_says: list[str]
    """That in words."""

    change: list[str]
    """What to change or do now, most important first; empty where there is nothing."""

    group: str | None = None
    """The group whose threshold holds for it; that of the site where absent."""

    last_look: str | None = None
    """The last look on its leaves, RFC 3339."""

    next: NextStrength | None = None
    """The next strength: that of its group or site, at most what practice gives such a plant."""

    usual: Usual | None = None
    """What is usual for it now."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PlantShare:
    """One plant and how much it got."""

    plant: str
    """The grower's identifier of the plant."""

    volume_ml: float | None = None
    """Volume given to it, over all passes, in mL."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PlantWeek:
    """One week of one plant."""

    week: str
    """The week after ISO 8601, such as `2026-W25`."""

    starts: str
    """Its Monday."""

    rounds: int
    """Rounds with feed."""

    root_feeds: int
    """Feeds at the root."""

    soaks: int
    """Rescue soaks."""

    flushes: int
    """Flushes."""

    leaf_mg: float
    """Dissolved feed that stayed on the plant, mg."""

    root_mg: float
    """Dissolved feed given at the root less what ran out below where measured, mg."""

    root_stated: bool
    """Whether `root_mg` is the weekly amount stated for the plant, for want of entries."""

    n_mg: float
    """Nitrogen in both, mg N, of the feeds whose nitrogen is known."""

    without_n: int
    """Feeds whose nitrogen is not known: `n_mg` is then too low."""

    without_volume: int
    """Feeds whose volume is not known: they are in no sum."""

    ceiling_mg: float | None = None
    """The ceiling of both for its pot, mg; absent without a pot of known volume."""

    residue: Level | None = None
    """The heaviest residue seen on it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Prior:
    """A log-normal distribution of the threshold."""

    median_g_m2: float
    """Median, g/m², 0.001 to 2."""

    log_sd: float
    """Standard deviation of the natural logarithm, 0.05 to 1."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ProductGiven:
    """What one plant got of one product."""

    plain_water: bool
    """Whether it is plain water."""

    rounds: int
    """Rounds through the leaf."""

    root_feeds: int
    """Feeds at the root."""

    last: str
    """The last of them, RFC 3339."""

    product: str | None = None
    """The product; absent for plain water, and for feed of which the product was not written down."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ReadQuantity:
    """A quantity as it was understood."""

    value: float
    """The number in `unit`."""

    unit: str
    """The unit code."""

    basis: str | None
    """What it is counted as or read on."""

    kind: Dimension
    """The kind of quantity."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Reading:
    """One reading (or forecast) of the air of an area."""

    time: str
    """When, RFC 3339 with offset."""

    temp_c: float
    """Air temperature in °C."""

    rh_percent: float
    """Relative humidity in %."""

    air_m_s: float | None = None
    """Air speed at the leaves in m/s."""

    area: str | None = None
    """The area it holds for; every area when not given."""

    radiation_w_m2: float | None = None
    """Global radiation at the leaves in W/m²."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Reason:
    """One reason."""

    code: str
    """The code, kebab-case English: one of [`codes`]."""

    message: str
    """What it says, in plain words with the numbers in them."""

    inputs: dict[str, Any] | None = None
    """The inputs it rests on, each with its unit in its name."""

    sources: list[str] | None = None
    """Keys of the works it rests on, or `common practice, no source`, or `from memory`."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ReasonEntry:
    """One reason."""

    code: ClockCode
    """The code."""

    message: str
    """What it means."""

    sources: list[str]
    """Keys of `data/sources.csv`; empty for common practice."""

    inputs: dict[str, float] | None = None
    """The inputs it rests on, by name ending in the unit."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ReasonOutput:
    """One reason."""

    code: str
    """The code, kebab-case English: one of [`codes`]."""

    message: str
    """What it says, in plain words with the numbers in them."""

    sources: list[str]
    """Keys of the works it rests on, or `common practice, no source`, or `from memory`."""

    inputs: dict[str, Any] | None = None
    """The inputs it rests on, each with its unit in its name."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RecipeProduct:
    """One product of a recipe."""

    name: str
    """The name on the label."""

    per_litre: float
    """Grams (or millilitres, for a liquid without a density) in one litre of solution, exact."""

    feed_strength_mg_l: float
    """The feed strength this product brings, mg/L."""

    share_percent: dict[str, float]
    """This product's share of each element that the feed brings, percent."""

    mass_g: float | None = None
    """The mass to weigh, g, rounded to the scale where one was given. Absent for a liquid
    without a density.
    """

    rounding: Rounding | None = None
    """What the rounding changed, where a resolution was given."""

    spoons: Spoons | None = None
    """The same in level spoons, for a powder with a bulk density."""

    volume_ml: float | None = None
    """The volume to measure, mL, for a liquid."""

    with_: list[RecipeSupplement] | None = None
    """The supplements that go with it, which its strength and shares count."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RecipeRequest:
    """A request for a recipe: products, targets, volume; pure water unless a report is given."""

    products: list[Label]
    """The labels of the products to use."""

    volume_l: float
    """How much solution, L (above 0)."""

    targets: list[Target]
    """What is wanted: one target for one product, any number for several."""

    ceilings: Ceilings | None = None
    """Limits not to pass."""

    resolution: ScaleResolution | None = None
    """What the grower can weigh."""

    target_meaning: TargetMeaning | None = None
    """Whether nutrient targets count what the feed adds or the total."""

    temp_c: float | None = None
    """Temperature of the solution, °C (0–40; 25 if omitted): for the reading of a meter
    without compensation.
    """

    water: WaterReport | None = None
    """The water; pure water if omitted."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RecipeResponse:
    """What to weigh out, what will be in the solution and what a meter will show."""

    target_meaning: TargetMeaning
    """What the nutrient targets count."""

    volume_l: float
    """The volume of solution, L."""

    products: list[RecipeProduct]
    """Each product with its amount."""

    targets: list[TargetReached]
    """Each target with what is reached."""

    feed_strength_mg_l: float
    """Feed strength: everything dissolved that comes from the feed, mg/L."""

    feed_ions_mg_l: float
    """Of that, the ions and urea that the analysis accounts for, mg/L. The rest is crystal
    water, carriers, chelate and dye.
    """

    n_mg_l: float
    """Total N from the feed, mg/L (ppm N); the water's own is in `profile_mg_l`."""

    profile_mg_l: dict[str, ElementAmount]
    """Every element of the solution (`n`, `p`, `k`, `ca`, …), with its split."""

    n_forms_mg_l: NitrogenForms
    """The forms of nitrogen, feed and water together."""

    ec25_us_cm: Bounds
    """Specific conductance as a meter will read it, µS/cm at 25 °C."""

    ec_us_cm: Bounds
    """Conductivity at the temperature of the solution, as a meter without compensation reads it,
    µS/cm.
    """

    water_ec25_us_cm: float
    """The water's own specific conductance, µS/cm at 25 °C."""

    meter_ppm: MeterPpm
    """The same reading on meters that show ppm."""

    feasible: bool
    """Whether every target is met within every ceiling."""

    warnings: list[Notice]
    """What a reader should know before mixing."""

    assumptions: list[Notice] | None = None
    """What the answer assumes."""

    blocking: list[Blocking] | None = None
    """The ceilings that keep a target from being met."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RecipeSupplement:
    """How much of a supplement goes with a product."""

    name: str
    """The name on its label."""

    feed_strength_mg_l: float
    """The feed strength that it brings, mg/L."""

    mass_g: float | None = None
    """The mass to weigh, g, in proportion to the product as it is weighed. Absent for a liquid
    without a density.
    """

    volume_ml: float | None = None
    """The volume to measure, mL, for a liquid."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RescueRequest:
    """A request for the soak schedule of one rootless plant."""

    name: str
    """The name of the plant."""

    site: SiteDescription
    """The site."""

    from_: str
    """The first day, `YYYY-MM-DD`."""

    days: int
    """How many days to plan, 1 to 200."""

    alternate: bool | None = None
    """Whether feed and plain water alternate, feed first: for a plant that had much feed, or whose
    water is hard. Every soak has feed when not given.
    """

    area: str | None = None
    """The area it stands in; the first of the site when not given."""

    leaf: Leaf | None = None
    """What its leaf is like, for a name with no record or a genus that varies."""

    soak_min: float | None = None
    """How long one soak lasts, in minutes; 30 when not given, and never more."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RescueResponse:
    """The soaks of a rootless plant."""

    name: str
    """The name as given."""

    taken_for: str
    """What it was taken for."""

    pathway: Pathway
    """How it takes up CO2."""

    opens: Opens
    """When its stomata open."""

    feed_strength_mg_l: float
    """Feed strength of the soak, mg/L of dissolved feed."""

    humidity_least_percent: float
    """Relative humidity to keep it at between soaks, at least, %."""

    soaks: list[Soak]
    """The soaks, in order of time."""

    steps: list[str]
    """What to do, in order."""

    stop_when: list[str]
    """When to stop or change, in order of time."""

    reasons: list[ReasonOutput]
    """Why."""

    unknowns: list[Unknown]
    """What was not known."""

    sources: list[Citation]
    """The works that the reasons cite."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ReviewRequest:
    """A request for the review of a collection."""

    entries: list[EntryInput]
    """What was done and seen on one site, in any order; at most 100,000."""

    at: str
    """The moment it is drawn up for, RFC 3339 with offset; later entries are omitted."""

    from_: str | None = None
    """The first day of the account, `YYYY-MM-DD`; that of the first entry when not given."""

    logs_only_white: bool | None = None
    """Whether the grower logs white only, so that a round without a look was probably clean."""

    only: list[str] | None = None
    """The plants that are asked for, by id; all when empty."""

    plants: list[PlantEntry] | None = None
    """The plants of the collection. A plant that is only in the entries is reviewed too, without
    what its setting and standing would tell.
    """

    tolerance: float | None = None
    """Probability of visible residue that is accepted, 0.01 to 0.5; 0.1 when not given."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ReviewResponse:
    """The review of a collection."""

    at: str
    """The moment it was drawn up for, RFC 3339."""

    site: ThresholdResponse
    """The threshold and the next strength of the site."""

    groups: list[ThresholdResponse]
    """Those of each group with reports enough for its own."""

    plants: list[PlantReview]
    """The plants."""

    assumed: list[ReasonOutput]
    """What was assumed."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RibbonAir:
    """The air at one moment."""

    time: str
    """When, RFC 3339 with offset."""

    rh_percent: float
    """Relative humidity, %."""

    temp_c: float
    """Temperature, °C."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RibbonGroup:
    """Plants that open alike."""

    name: str
    """What they share."""

    plants: list[str]
    """Their identifiers."""

    openings: list[PlantOpening]
    """When their stomata are expected open."""

    best: WindowOutput | None
    """Their best window, where there is one in these 24 hours."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RoundGroup:
    """Plants of one area that get the same for the same reasons."""

    group: str
    """What they share, in words."""

    area: str
    """The area."""

    plants: list[RoundPlant]
    """The plants."""

    verdict: Verdict
    """What to do."""

    start: str
    """Start of the window of this group, RFC 3339 with offset."""

    end: str
    """End of the window of this group, RFC 3339 with offset."""

    residue_probability: float
    """The highest probability of visible residue in the group."""

    modelled: ModelledResidue
    """What is left on the plant of the group on which most is, and how sure that is."""

    driest_rh_percent: float
    """The driest air of the day that follows, %."""

    driest_at: str
    """When that is, RFC 3339 with offset."""

    reasons: list[Reason]
    """Why, of the hour and the dose planned."""

    bench: str | None = None
    """The bench, where the collection names it."""

    dry_minutes: float | None = None
    """Minutes until the leaves are dry; none where they stay wet."""

    runner_up: Window2 | None = None
    """The best other time of the first plant of the group: its best where it was moved."""

    worth: float | None = None
    """What the window and dose planned are worth, in full doses, for the plant that gets least."""

    worth_lost: float | None = None
    """The share of its worth that the plant of the group forgoes which forgoes most, against its
    own best window and dose; 0 where all have their best.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class RoundGroupOutput:
    """Plants of one area that get the same for the same reasons."""

    group: str
    """What they share, in words."""

    area: str
    """The area."""

    plants: list[RoundPlant]
    """The plants."""

    verdict: Verdict
    """What to do."""

    start: str
    """Start of the window of this group, RFC 3339 with offset."""

    end: str
    """End of the window of this group, RFC 3339 with offset."""

    residue_probability: float
    """The highest probability of visible residue in the group."""

    modelled: ModelledResidue
    """What is left on the plant of the group on which most is, and how sure that is."""

    dry_minutes: float | None
    """Minutes until the leaves are dry; none where they stay wet."""

    driest_rh_percent: float
    """The driest air of the day that follows, %."""

    driest_at: str
    """When that is, RFC 3339 with offset."""

    worth: float
    """What the window and dose planned are worth, in full doses, for the plant that gets least."""

    worth_lost: float
    """The share of its worth that the plant of the group forgoes which forgoes most, against its
    own best window and dose; 0 where all have their best.
    """

    reasons: list[ReasonOutput]
    """Why, of the hour and the dose planned."""

    bench: str | None = None
    """The bench, where the collection names it."""

    runner_up: WindowOutput | None = None
    """The best other time of the first plant of the group: its best where it was moved."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RoundPlant:
    """A plant of a round."""

    id: str
    """The grower's identifier."""

    name: str
    """The name as given."""

    spray_ml: float
    """Volume to spray on it, all passes together, what runs off included, mL."""

    worth_lost: float | None = None
    """The share of its worth that it forgoes in this round against its own best window and dose."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RoundResponse:
    """A round for a whole collection: one bucket, sittings in order of time, every mister fill."""

    site: str
    """The site."""

    from_: str
    """Start of the time looked at, RFC 3339."""

    to: str
    """End of the time looked at, RFC 3339."""

    bucket: BucketOutput | None
    """The bucket, the first where a later sitting needs its own; none where no plant is fed."""

    sittings: list[SittingOutput]
    """When to go round, in order of time."""

    minutes: float
    """Minutes of all sittings together, estimated from the stated pace."""

    alone: list[AloneOutput]
    """Who gets nothing now, and why."""

    cautions: list[ReasonOutput]
    """Cautions and assumptions that hold for the whole round."""

    unknowns: list[Unknown]
    """What was not known, what matters most first."""

    sources: list[Citation]
    """The works that the reasons cite."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RoundResponseInput:
    """A round for a whole collection: one bucket, sittings in order of time, every mister fill."""

    site: str
    """The site."""

    from_: str
    """Start of the time looked at, RFC 3339."""

    to: str
    """End of the time looked at, RFC 3339."""

    sittings: list[Sitting]
    """When to go round, in order of time."""

    alone: list[Alone]
    """Who gets nothing now, and why."""

    cautions: list[Reason]
    """Cautions and assumptions that hold for the whole round."""

    unknowns: list[Unknown]
    """What was not known, what matters most first."""

    sources: list[Citation]
    """The works that the reasons cite."""

    bucket: Bucket | None = None
    """The bucket, the first where a later sitting needs its own; none where no plant is fed."""

    minutes: float | None = None
    """Minutes of all sittings together, estimated from the stated pace."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RoundStep:
    """One strength in the mister, and everyone who gets it."""

    feed_strength_mg_l: float
    """Feed strength, mg/L of dissolved feed; 0 for plain water."""

    n_mg_l: float
    """Nitrogen from the feed, mg/L."""

    ec25_us_cm: Bounds
    """What a meter will read in the mister, µS/cm at 25 °C."""

    passes: int
    """Passes; let the leaves dry in between."""

    spray_ml: float
    """Volume to spray, all passes together, mL."""

    fills: list[Fill]
    """The mister fills."""

    groups: list[RoundGroup]
    """Who gets it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RoundStepOutput:
    """One strength in the mister, and everyone who gets it."""

    feed_strength_mg_l: float
    """Feed strength, mg/L of dissolved feed; 0 for plain water."""

    n_mg_l: float
    """Nitrogen from the feed, mg/L."""

    ec25_us_cm: Bounds
    """What a meter will read in the mister, µS/cm at 25 °C."""

    passes: int
    """Passes; let the leaves dry in between."""

    spray_ml: float
    """Volume to spray, all passes together, mL."""

    fills: list[Fill]
    """The mister fills."""

    groups: list[RoundGroupOutput]
    """Who gets it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Rounding:
    """What rounding to the scale changed."""

    exact: float
    """The exact amount, in g (or mL for a volume)."""

    step: float
    """The step of the scale, in the same unit."""

    error_percent: float
    """The rounded amount less the exact one, percent of the exact one."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SaltMargin:
    """A salt in a stock against its solubility."""

    salt: str
    """The salt."""

    holds_g_per_100_g: float
    """How much of it the stock holds, g in 100 g of water."""

    dissolves_g_per_100_g: float
    """Its solubility alone at the coldest temperature, g in 100 g of water."""

    percent_of_solubility: float
    """Holds over dissolves, percent. Salts that share an ion dissolve less than alone."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ScaleResolution:
    """The smallest amounts the grower can weigh or measure."""

    mass_g: float | None = None
    """Step of the scale, g; amounts are not rounded if omitted."""

    volume_ml: float | None = None
    """Step of the syringe or cylinder, mL; amounts are not rounded if omitted."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SearchMatch:
    """One name of the tables."""

    name: str
    """The name as spelt in the tables."""

    kind: MatchKind
    """What kind of name it is."""

    stands_for: list[str]
    """For a name that is not accepted: the genera it stands for; for a hybrid genus its parents."""

    pathway: Pathway
    """How it fixes carbon; `unknown` if it stands for several genera."""

    opens: Opens
    """When its leaf stomata are expected open."""

    leaf: Leaf
    """The type of leaf."""

    grade: Grade
    """How well the pathway is known."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SearchRequest:
    """Asks for the names that begin with a text."""

    query: str
    """The beginning of a name: a genus, hybrid genus, old name or abbreviation, or a genus and
    the beginning of an epithet.
    """

    limit: int | None = None
    """The most matches wanted; 12 if omitted."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SearchResponse:
    """The names that begin as the query does; if none does, what a misspelt name may mean."""

    query: str
    """The query as given."""

    matches: list[SearchMatch]
    """The matches: accepted genera and species first, then other names, each in alphabetical
    order.
    """

    more: bool
    """Whether there are more than the limit."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SeenSign:
    """A sign that was logged."""

    sign: Sign
    """What was seen."""

    entry: str
    """The entry."""

    at: str
    """When it was, RFC 3339."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SendEntriesOutput:
    """Entries that a device sends."""

    entries: list[DraftOutput]
    """The entries, 1 to 500, each with an `id` of its own. A correction may come before the entry
    that it corrects.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class SiteDescription:
    """The place: where it is, its areas, and what its grower has to work with."""

    name: str
    """The name of the site."""

    latitude_deg: float
    """Latitude in degrees, north positive, −90 to 90."""

    longitude_deg: float
    """Longitude in degrees, east positive, −180 to 180."""

    time_zone: str
    """IANA time zone, such as `Europe/London`."""

    areas: list[AreaDescription]
    """The parts of the site with an air or a light of their own."""

    elevation_m: float | None = None
    """Height above sea level in metres; 0 when not given."""

    feeds: list[FeedDescription] | None = None
    """The feeds that the grower gives in turn. Advice is for one product at a time: who reads the
    folder picks it, by the rota and the journal.
    """

    grower: GrowerSettings | None = None
    """What the grower has and wants."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Sitting:
    """One time to go round."""

    start: str
    """Start, RFC 3339 with offset."""

    end: str
    """End, RFC 3339 with offset."""

    part_of_day: str
    """`before-dawn`, `morning`, `day`, `late-afternoon` or `evening` by the sun; `before-lights-on`,
    `lights-on` or `after-lights-off` in an area lit by lamps alone.
    """

    steps: list[RoundStep]
    """The strengths, strongest first, because the bucket is stepped down; within a strength by
    area, then bench.
    """

    left_over_ml: float
    """What is left in the mister at the end, mL."""

    left_over_mg_l: float
    """Its feed strength, mg/L."""

    bucket: Bucket | None = None
    """A bucket of its own, to be mixed for it: the one before would be too old. None where the
    bucket of the round, or that of an earlier sitting, serves it.
    """

    minutes: float | None = None
    """Minutes it takes, estimated from the stated pace."""

    notes: list[Reason] | None = None
    """What is to be said of it, such as that it does not fit its window."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SittingOutput:
    """One time to go round."""

    start: str
    """Start, RFC 3339 with offset."""

    end: str
    """End, RFC 3339 with offset."""

    part_of_day: str
    """`before-dawn`, `morning`, `day`, `late-afternoon` or `evening` by the sun; `before-lights-on`,
    `lights-on` or `after-lights-off` in an area lit by lamps alone.
    """

    steps: list[RoundStepOutput]
    """The strengths, strongest first, because the bucket is stepped down; within a strength by
    area, then bench.
    """

    minutes: float
    """Minutes it takes, estimated from the stated pace."""

    left_over_ml: float
    """What is left in the mister at the end, mL."""

    left_over_mg_l: float
    """Its feed strength, mg/L."""

    bucket: BucketOutput | None = None
    """A bucket of its own, to be mixed for it: the one before would be too old. None where the
    bucket of the round, or that of an earlier sitting, serves it.
    """

    notes: list[ReasonOutput] | None = None
    """What is to be said of it, such as that it does not fit its window."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Soak:
    """One soak."""

    start: str
    """When it starts, RFC 3339 with offset."""

    end: str
    """When the plant comes out and dries, RFC 3339 with offset."""

    plain_water: bool | None = None
    """Whether it is one of plain water, where feed and water alternate."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SolutionRequest:
    """A composition and the conditions under which it is analysed. Give the totals in
    `ions_mmol_l` or in `ions_mg_l`, not in both.
    """

    co2: Co2 | None = None
    """Whether carbon dioxide is exchanged with the air; closed if omitted."""

    ions_mg_l: IonsMgL | None = None
    """Totals in mg/L."""

    ions_mmol_l: IonsMmolL | None = None
    """Totals in mmol/L."""

    ph: float | None = None
    """The measured pH, 0 to 14; if omitted it follows from the charge balance."""

    temp_c: float | None = None
    """The temperature, 0 to 40 °C; 25 if omitted."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SolutionResponse:
    """What a solution holds and how it behaves."""

    ec25_us_cm: float
    """Specific conductance, the conductivity at 25 °C, in µS/cm."""

    ec25_range_us_cm: Bounds
    """The interval in which it is held to lie, in µS/cm."""

    ec_us_cm: float
    """Conductivity at the temperature, in µS/cm."""

    temp_c: float
    """The temperature, in °C."""

    ph: float
    """The pH at the temperature."""

    ionic_strength_mol_kg: float
    """Ionic strength, in mol per kg of water."""

    osmolality_mosm_kg: float
    """Osmolality, in mosmol per kg of water."""

    dic_mmol_l: float
    """Total inorganic carbon, in mmol/L; where open to air, what the solution took up."""

    species_mmol_l: dict[str, float]
    """Concentration of each species present, in mmol/L, by formula with charge."""

    saturation_index: dict[str, float]
    """log10(IAP/K) of each solid whose parts are present; above 0 it can form."""

    charge_imbalance_percent: float
    """(cations − anions)/(cations + anions) of the species, in percent: 0 where the pH
    follows from the balance.
    """

    assumptions: list[Notice]
    """What the answer takes for granted."""

    warnings: list[Notice]
    """What is doubtful about it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Spoons:
    """Level spoons of a powder."""

    metric_tsp: float
    """Teaspoons of 5 mL, exact."""

    us_tsp: float
    """United States teaspoons of 4.929 mL, exact."""

    metric_tsp_rounded: float
    """Metric teaspoons rounded to eighths."""

    rounding_error_percent: float
    """How far that rounding is off, percent."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SprayedRound:
    """A round as far as it tells about residue."""

    day: str
    """Its day, `YYYY-MM-DD`."""

    feed_strength_mg_l: float
    """Feed strength, mg/L, 0 (plain water) to 10,000."""

    entry: str | None = None
    """The entry of the journal."""

    feed_g_m2: float | None = None
    """Modelled residue of feed salts, g/m², 0 to 20."""

    product: str | None = None
    """The product that was dissolved."""

    residue_log_sd: float | None = None
    """Log-normal uncertainty of what is seen, 0.01 to 3; the usual one of a day when not given."""

    scale_g_m2: float | None = None
    """Modelled carbonate scale, g/m², 0 to 20."""

    sprayer: str | None = None
    """The sprayer."""

    water: str | None = None
    """The water it was dissolved in."""

    wetting_agent: str | None = None
    """The wetting agent."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Stock:
    """A stock solution: the product made up with water to a volume, measured out with a syringe."""

    made_up_to_ml: float
    """The volume it is made up to with water, mL."""

    take_ml: float
    """What of it goes into the bucket, mL."""

    keeps_days: float
    """Days it is kept, closed, dark and cool."""

    mass_g: float | None = None
    """Product to weigh, g; none for a liquid."""

    volume_ml: float | None = None
    """Product to measure, mL; none for a powder."""


@dataclass(frozen=True, kw_only=True, slots=True)
class StomataCount:
    """Stomata on one side of the leaves of a species."""

    side: Side
    """The side of the leaf."""

    per_mm2: float | None
    """Stomata in a square millimetre; 0 where there are none."""

    sources: list[str]
    """Keys of the works."""


@dataclass(frozen=True, kw_only=True, slots=True)
class StrengthCell:
    """One cell."""

    rh_percent: float
    """Relative humidity, %."""

    air: AirWord
    """The air movement."""

    strength_mg_l: float
    """The highest acceptable feed strength in one pass, mg/L; 0 where even the water is too much."""

    dry_minutes: float | None
    """Minutes until a film of that strength is dry to the touch; none where it stays wet."""

    share_taken_up: float
    """The likely share of the feed that enters the leaf before it is dry, or within the hours that
    are counted where it stays wet, 0 to 1.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class StrengthChartRequest:
    """A request for the safe-strength chart of a product in a water."""

    feed: Label
    """The product."""

    temp_c: float
    """Air temperature in °C, 0 to 45."""

    residue_threshold_g_m2: float | None = None
    """The grower's own residue threshold, g/m²."""

    tolerance: float | None = None
    """The probability of visible residue that is accepted, 0.01 to 0.5."""

    water: WaterReport | None = None
    """The water; pure where not given."""


@dataclass(frozen=True, kw_only=True, slots=True)
class StrengthChartResponse:
    """The chart."""

    product: str
    """The product."""

    temp_c: float
    """Air temperature, °C."""

    tolerance: float
    """The probability of visible residue that is accepted."""

    air: list[AirColumn]
    """The air movements, one a column."""

    cells: list[StrengthCell]
    """One cell for each humidity (from humid to dry) and air movement (from still to windy)."""

    most_mg_l: float
    """The highest strength that was tried, mg/L."""

    stays_wet_above_percent: float
    """Above this humidity a film of 300 mg/L stays liquid, %."""

    description: list[str]
    """The chart in words."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Supplement:
    """A supplement that goes with a feed."""

    label: Label
    """Its label, without supplements of its own."""

    amount: float
    """How much of it for each gram of the feed, or for each mL of a liquid feed: g of a powder, mL
    of a liquid (g where its percentages are of mass and its density is not stated), 0.001 to
    1,000.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class SupplementDescription:
    """A supplement that goes into the bucket with a feed."""

    product: str
    """The product by its label: its name or a part of it."""

    amount: float
    """How much of it for each gram of the feed, or for each mL of a liquid feed: g of a powder, mL
    of a liquid, 0.001 to 1,000.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class Surplus:
    """What is left in a bucket."""

    ml: float
    """The volume, mL."""

    reason: Reason
    """What it is good for."""

    pots: list[SurplusPot] | None = None
    """Pots with room under their weekly ceiling, with what each may get at the root."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SurplusOutput:
    """What is left in a bucket."""

    ml: float
    """The volume, mL."""

    reason: ReasonOutput
    """What it is good for."""

    pots: list[SurplusPot] | None = None
    """Pots with room under their weekly ceiling, with what each may get at the root."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SurplusPot:
    """A pot that may get what is left in the bucket at the root."""

    id: str
    """The grower's identifier."""

    name: str
    """The name as given."""

    ml: float
    """The most it may get, mL."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Taken:
    """What became of one entry."""

    outcome: EntryOutcome
    """Whether it is in the journal now."""

    error: Error | None = None
    """Why it was refused."""

    id: str | None = None
    """The identifier of the entry, where it has one that can be read."""

    sequence: int | None = None
    """Its place in the order of recording, from 1; only where it is in the journal."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Tank:
    """One tank."""

    tank: str
    """`A`, `B`, …"""

    products: list[TankAmount]
    """What to dissolve in it."""

    solubility: list[SaltMargin]
    """Salts of the stock against their solubility at the coldest temperature."""

    solids: list[TankSolid] | None = None
    """Every solid that the ions present can form, by exchange too, nearest to saturation first;
    omitted where the stock is outside the model (a warning says why).
    """

    stays_clear_to_percent: float | None = None
    """The share of this strength, percent, up to which nothing comes down at the coldest
    temperature; omitted where the stock is outside the model.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class TankAmount:
    """An amount of one product in a stock."""

    name: str
    """The product."""

    per_litre: float
    """Grams (mL for a liquid without a density) per litre of stock."""

    amount: float
    """Grams (mL) for the whole stock."""

    unit: str
    """`g` or `mL`."""


@dataclass(frozen=True, kw_only=True, slots=True)
class TankProduct:
    """A product and how much of it the finished solution holds."""

    label: Label
    """Its label."""

    per_litre: float
    """How much of it one litre of finished solution holds, g (mL for a liquid without a density)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class TankRequest:
    """A question about stock tanks."""

    products: list[TankProduct]
    """The products."""

    injector_n: float
    """N of the injector's 1:N."""

    convention: Convention
    """What N counts."""

    stock_l: float
    """The volume of stock, L."""

    coldest_c: float
    """The coldest temperature the tank will see, °C (0–40)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class TankResponse:
    """How to divide products among stock tanks."""

    tanks: list[Tank]
    """The tanks, as few as the products allow."""

    apart: list[Notice]
    """Pairs of products that must not share a tank, and why."""

    warnings: list[Notice]
    """What a reader should know."""


@dataclass(frozen=True, kw_only=True, slots=True)
class TankSolid:
    """A solid that the ions of a stock can form, also one that no product holds."""

    name: str
    """The solid, such as `potassium sulfate`."""

    formula: str
    """Its formula."""

    saturation_index: Bounds
    """log10 of the ion activity product over the constant at the coldest temperature: above 0 it
    comes down. The ends differ where the model has only bounds.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class TargetEc25:
    """What the meter should read in the end, water and feed together, µS/cm at 25 °C."""

    ec25: TargetEc25Value


@dataclass(frozen=True, kw_only=True, slots=True)
class TargetEc25AboveWater:
    """How much the feed should raise the reading above the water's own, µS/cm at 25 °C."""

    ec25_above_water: TargetEc25AboveWaterValue


@dataclass(frozen=True, kw_only=True, slots=True)
class TargetEc25AboveWaterValue:

    us_cm: float
    """µS/cm at 25 °C."""


@dataclass(frozen=True, kw_only=True, slots=True)
class TargetEc25Value:

    us_cm: float
    """µS/cm at 25 °C."""


@dataclass(frozen=True, kw_only=True, slots=True)
class TargetFeedStrength:
    """Feed strength, mg/L of everything dissolved that comes from the feed. It never counts the
    water, whatever the meaning of targets.
    """

    feed_strength: TargetFeedStrengthValue


@dataclass(frozen=True, kw_only=True, slots=True)
class TargetFeedStrengthValue:

    mg_l: float
    """mg/L."""


@dataclass(frozen=True, kw_only=True, slots=True)
class TargetNutrient:
    """A nutrient on a stated basis."""

    nutrient: TargetNutrientValue


@dataclass(frozen=True, kw_only=True, slots=True)
class TargetNutrientValue:

    basis: BasisName
    """The basis, such as `N` or `P2O5`."""

    mg_l: float
    """The figure wanted, mg/L (the same as ppm)."""

    high_mg_l: float | None = None
    """The high end of what is still as good, mg/L; the figure itself if omitted."""

    low_mg_l: float | None = None
    """The low end of what is still as good, mg/L; the figure itself if omitted."""

    weight: float | None = None
    """How much this target counts against others; 1 if omitted."""


@dataclass(frozen=True, kw_only=True, slots=True)
class TargetReached:
    """One target and what is reached."""

    target: Target
    """The target as asked."""

    reached: float
    """The figure reached, in the target's own unit and basis and with its meaning."""

    deviation_percent: float
    """Reached less wanted, percent of the wanted figure."""

    met: bool
    """Whether it lies within the wanted range (or within 1 % of the figure)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class TaxonBrief:
    """One taxon beside the answer: something the name may mean, or a parent of a hybrid."""

    name: str
    """Its accepted name."""

    rank: Rank
    """What kind of taxon it is."""

    pathway: Pathway
    """How it fixes carbon."""

    opens: Opens
    """When its leaf stomata are expected open."""

    leaf: Leaf
    """The type of leaf."""

    grade: Grade
    """How well the pathway is known."""

    sources: list[str]
    """Keys of the works."""

    edits: int
    """Letters by which the query is off its name; 0 for a parent or an exact name."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ThresholdRequest:
    """A request for the learned threshold and the next feed strength."""

    observations: list[Observation]
    """What was seen, in any order; at most 100,000."""

    day: str | None = None
    """The day it is asked for, `YYYY-MM-DD`: the threshold drifts on to it. The day of the last
    observation or round when not given. Later observations and rounds are omitted.
    """

    group: str | None = None
    """The group whose threshold is asked for; the whole site when not given. Reports on other
    plants then only tell about the site.
    """

    influence: bool | None = None
    """Asks what each of the last looks did to the threshold."""

    interval_share: float | None = None
    """The probability that the interval holds, 0.5 to 0.99; 0.9 when not given."""

    logs_only_white: bool | None = None
    """Whether the grower logs white only, so that a round without a look was probably clean."""

    next: NextStrengthRequest | None = None
    """Asks for the next feed strength."""

    not_used: list[NotUsed] | None = None
    """What was omitted from the observations, repeated in the answer."""

    prior: Prior | None = None
    """Where to start from; the shipped calibration when not given."""

    rounds: list[SprayedRound] | None = None
    """The rounds that were sprayed, in any order; at most 100,000. They tell when product, water,
    wetting agent or sprayer changed, and which rounds nobody looked at.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class ThresholdResponse:
    """The learned threshold."""

    prior: Estimate
    """Before any report on it."""

    posterior: Estimate
    """After all reports, drifted on to the day."""

    interval_share: float
    """The probability that each interval holds."""

    at_least: bool
    """Whether no look shows the threshold from above: then the median and the upper end say
    little, and the threshold is at least the lower end.
    """

    evidence: list[Evidence2]
    """The reports, in the order given."""

    not_used: list[NotUsed]
    """What was omitted, and why."""

    changes: list[Change2]
    """Days on which another product, water, wetting agent or sprayer was recorded, `YYYY-MM-DD`."""

    counted_as_clean: int
    """Rounds without a look that were counted as probably clean."""

    curve: list[CurvePoint]
    """Both distributions, for drawing."""

    day: str | None = None
    """The day it is for, `YYYY-MM-DD`; absent where nothing was observed and no day asked for."""

    group: str | None = None
    """The group it is for; the site where absent."""

    next: NextStrength | None = None
    """The next feed strength, where it was asked for."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Unknown:
    """Something that was not known, and how much it matters."""

    what: str
    """What was not known."""

    assumed: str
    """What was assumed instead."""

    spread: float
    """How far the answer moves over the plausible range: the change of the probability of
    visible residue, or of the probability that the stomata are open, 0 to 1.
    """

    measure: str
    """How to find out."""

    plants: list[str] | None = None
    """In a round: the ids of the plants it holds for."""


@dataclass(frozen=True, kw_only=True, slots=True)
class UptakeShare:
    """The share of the feed that enters a leaf, 0 to 1. Plants differ widely: about 1 chance in 10
    that it is below `low`, and 1 in 10 that it is above `high`.
    """

    low: float
    """A low value."""

    likely: float
    """The likely value."""

    high: float
    """A high value."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Usual:
    """What is usual for a plant now, from its last rounds."""

    rounds: int
    """Rounds it is taken from."""

    feed_strength_mg_l: float
    """Their feed strength (median), mg/L."""


@dataclass(frozen=True, kw_only=True, slots=True)
class UsualDay:
    """What a round leaves on a usual day."""

    residue_g_m2_per_mg_l: float
    """Modelled residue for each mg/L of feed strength, g/m² per mg/L, 0 to 0.01."""

    residue_log_sd: float | None = None
    """Log-normal uncertainty of both, 0.01 to 3; the usual one of a day when not given."""

    residue_without_feed_g_m2: float | None = None
    """Modelled residue without any feed, g/m² weighed as whiteness, 0 to 20."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Via:
    """The other name that led to the answer."""

    name: str
    """The name."""

    kind: NameKind
    """What kind of name it is."""

    evidence: NameEvidence
    """How well it is known that it is a name of the answer."""


@dataclass(frozen=True, kw_only=True, slots=True)
class WaterIndices:
    """Saturation with calcium carbonate, and what irrigation guidelines make of the water."""

    temp_c: float
    """The temperature that the indices hold for, °C."""

    ph: float
    """The pH that the indices hold for, stated or assumed."""

    irrigation: list[IrrigationClass]
    """Degrees of restriction on use (Ayers & Westcot 1985, FAO Irrigation and Drainage Paper 29,
    table 1), which were drawn up for field soils.
    """

    calcite_saturation_index: float | None = None
    """Saturation index of calcite: log10 of the ion activity product over the constant of
    Plummer & Busenberg (1982); omitted where the water holds no calcium or carbonate.
    """

    ccpp_mg_l_caco3: float | None = None
    """Calcium carbonate precipitation potential (Standard Methods 2330 C), mg/L as CaCO3: what
    comes down until the closed water is in equilibrium with calcite; negative where it
    dissolves.
    """

    langelier_index: float | None = None
    """Langelier index (Langelier 1936; Standard Methods 2330 B): pH less the pH at which a water
    of the same calcium, alkalinity and temperature is in equilibrium with calcite.
    """

    sodium_adsorption_ratio: float | None = None
    """Sodium adsorption ratio, (meq/L)^½: Na/√((Ca + Mg)/2); omitted without calcium and
    magnesium.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class WaterReport:
    """A water report. Every figure is optional; omitted figures are completed and marked as assumed.
    Fields without a unit in their name take text with a unit.
    """

    alkalinity: str | None = None
    """Alkalinity as text, such as `"210 mg/L CaCO3"`, `"4.2 meq/L"`, `"256 mg/L HCO3"`, `"11 °dKH"`."""

    alkalinity_mg_l_caco3: float | None = None
    """Alkalinity, mg/L as CaCO3."""

    ca_mg_l: float | None = None
    """Calcium, mg/L as Ca."""

    cl_mg_l: float | None = None
    """Chloride, mg/L."""

    ec: str | None = None
    """Conductivity as text with its unit, such as `"0.62 mS/cm at 20 °C"`."""

    ec_temp_c: float | None = None
    """The temperature the conductivity refers to, °C: 25 where the meter compensates (the
    default), the water's own where it does not.
    """

    ec_us_cm: float | None = None
    """Conductivity as read, µS/cm (0–20 000)."""

    hardness: str | None = None
    """Total hardness as text with its unit, such as `"14 °dH"`, `"250 mg/L CaCO3"`, `"2.5 mmol/L"`."""

    hardness_mg_l_caco3: float | None = None
    """Total hardness, mg/L as CaCO3."""

    hco3_mg_l: float | None = None
    """Bicarbonate, mg/L as HCO3, where the report gives it instead of alkalinity."""

    k_mg_l: float | None = None
    """Potassium, mg/L as K."""

    mg_mg_l: float | None = None
    """Magnesium, mg/L as Mg."""

    na_mg_l: float | None = None
    """Sodium, mg/L."""

    name: str | None = None
    """A name for the water."""

    nh4_mg_l: float | None = None
    """Ammonium, mg/L as NH4."""

    nh4_n_mg_l: float | None = None
    """Ammoniacal nitrogen, mg/L as N."""

    no3_mg_l: float | None = None
    """Nitrate, mg/L as NO3."""

    no3_n_mg_l: float | None = None
    """Nitrate nitrogen, mg/L as N."""

    p_mg_l: float | None = None
    """Phosphorus, mg/L as P."""

    ph: float | None = None
    """pH (3–11)."""

    po4_mg_l: float | None = None
    """Orthophosphate, mg/L as PO4."""

    so4_mg_l: float | None = None
    """Sulfate, mg/L as SO4."""

    temp_c: float | None = None
    """Temperature of the water when the pH was read, °C (0–40)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class WaterRequest:
    """A question about a water."""

    blend: BlendRequest | None = None
    """A blend with softer water that is wanted."""

    headroom: HeadroomRequest | None = None
    """A ceiling under which the feed headroom is wanted."""

    water: WaterReport | None = None
    """The report."""


@dataclass(frozen=True, kw_only=True, slots=True)
class WaterResidue:
    """What a water alone leaves when it dries, in mg per litre dried."""

    scale_caco3_mg_l: float
    """Calcium and magnesium carbonate scale, after the bicarbonate has lost its CO2, mg/L as CaCO3.
    It needs an acid (vinegar, citric) to come off, not water.
    """

    scale_mg_l: float
    """The same as it lies on the leaf (calcite, and magnesium carbonate with its crystal water),
    mg/L.
    """

    other_salts_mg_l: float
    """Everything else (sulfates, chlorides, sodium and potassium salts), without crystal water,
    mg/L. Plain soft water rinses it off.
    """

    total_mg_l: float
    """Both together, mg/L."""


@dataclass(frozen=True, kw_only=True, slots=True)
class WaterResponse:
    """A water, completed, with what follows from it."""

    name: str
    """The name on the report, or "water"."""

    ec25_us_cm: float
    """Specific conductance at 25 °C, µS/cm: stated (converted to 25 °C) or computed."""

    ec25_from_ions_us_cm: float
    """Specific conductance computed from the completed ions, µS/cm."""

    hardness_mg_l_caco3: float
    """Total hardness, mg/L as CaCO3."""

    alkalinity_mg_l_caco3: float
    """Alkalinity, mg/L as CaCO3."""

    ions_mg_l: dict[str, float]
    """The completed ions by solute (`ca`, `mg`, `k`, `na`, `nh4`, `no3`, `p`, `so4`, `cl`,
    `dic`), mg/L, each weighed as itself (`no3` as NO3, `p` as P, `so4` as SO4, `dic` as HCO3).
    """

    ions_mmol_l: dict[str, float]
    """The same in mmol/L."""

    supplies_mg_l: dict[str, float]
    """What the water supplies by element (`n`, `p`, `k`, `ca`, `mg`, `s`, `na`, `cl`), mg/L."""

    charge_imbalance_percent: float
    """(cations − anions)/(cations + anions) of the stated and completed ions, percent."""

    assumed: list[Assumed]
    """What was assumed."""

    contradictions: list[Contradiction]
    """What does not agree."""

    indices: WaterIndices
    """Saturation with calcite, sodium adsorption and irrigation classes."""

    residue: WaterResidue
    """What the water alone leaves when it dries."""

    warnings: list[Notice]
    """What a reader should know."""

    blend: BlendResponse | None = None
    """The blend, where asked."""

    headroom: Headroom | None = None
    """The feed headroom, where asked."""

    ph: float | None = None
    """pH as stated, if it is."""


@dataclass(frozen=True, kw_only=True, slots=True)
class WeeklyDose:
    """Leaf and root feed of a potted plant in a week."""

    leaf_mg: float
    """From the leaf, mg of dissolved feed."""

    root_mg: float | None
    """From the root, mg of dissolved feed; none where not stated."""

    ceiling_mg: float | None
    """The ceiling for this pot, mg; none where the pot's volume is not stated."""

    flush_due: str | None
    """When the pot is due for a flush with plain water, a date; none where the last is not known."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Window:
    """From when to when."""

    from_: str
    """Start, RFC 3339 with offset."""

    to: str
    """End, RFC 3339 with offset."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Window2:
    """An interval to work in."""

    start: str
    """Start, RFC 3339 with offset."""

    end: str
    """End, RFC 3339 with offset."""

    phase: Phase
    """The opening it lies in."""

    open_probability: float
    """How probable it is that the stomata are open then, 0 to 1."""

    feed_strength_mg_l: float
    """Feed strength, mg/L of dissolved feed."""

    passes: int
    """Passes."""

    residue_probability: float
    """Probability of visible residue at the worst hour of the window."""

    scale_probability: float
    """Of it, the part that the water alone would leave."""

    modelled: ModelledResidue
    """What is left and how sure that is, at the worst hour of the window."""

    basis: AirBasis
    """How the air from the start of the window to the driest hour after it is known: the weakest."""

    uptake: UptakeShare
    """The share of the feed that enters the leaf before it is dry, or within the hours counted
    where it stays wet.
    """

    driest_rh_percent: float
    """The driest air of the day that follows, which decides how much turns solid, %."""

    driest_at: str
    """When that is, RFC 3339 with offset."""

    worth: float
    """What the window is worth: the objective by which windows are ranked, in full doses."""

    costs: str | None = None
    """What is lost against the best window, in words; empty for the best."""

    dry_minutes: float | None = None
    """Minutes until the leaf is dry at the middle of the window; none where it stays wet."""

    velamen_minutes: float | None = None
    """Minutes for which the velamen of hanging roots stays wet; none for other roots, and where it
    does not dry.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class Window2Output:
    """From when to when."""

    from_: str
    """Start, RFC 3339 with offset."""

    to: str
    """End, RFC 3339 with offset."""


@dataclass(frozen=True, kw_only=True, slots=True)
class WindowOutput:
    """An interval to work in."""

    start: str
    """Start, RFC 3339 with offset."""

    end: str
    """End, RFC 3339 with offset."""

    phase: Phase
    """The opening it lies in."""

    open_probability: float
    """How probable it is that the stomata are open then, 0 to 1."""

    feed_strength_mg_l: float
    """Feed strength, mg/L of dissolved feed."""

    passes: int
    """Passes."""

    residue_probability: float
    """Probability of visible residue at the worst hour of the window."""

    scale_probability: float
    """Of it, the part that the water alone would leave."""

    modelled: ModelledResidue
    """What is left and how sure that is, at the worst hour of the window."""

    basis: AirBasis
    """How the air from the start of the window to the driest hour after it is known: the weakest."""

    dry_minutes: float | None
    """Minutes until the leaf is dry at the middle of the window; none where it stays wet."""

    uptake: UptakeShare
    """The share of the feed that enters the leaf before it is dry, or within the hours counted
    where it stays wet.
    """

    driest_rh_percent: float
    """The driest air of the day that follows, which decides how much turns solid, %."""

    driest_at: str
    """When that is, RFC 3339 with offset."""

    worth: float
    """What the window is worth: the objective by which windows are ranked, in full doses."""

    costs: str | None = None
    """What is lost against the best window, in words; empty for the best."""

    velamen_minutes: float | None = None
    """Minutes for which the velamen of hanging roots stays wet; none for other roots, and where it
    does not dry.
    """


@dataclass(frozen=True, kw_only=True, slots=True)
class WorkingHours:
    """A period of the day in local time; `to` earlier than `from` runs over midnight."""

    from_: str
    """Start, `HH:MM`."""

    to: str
    """End, `HH:MM`."""


AcidName: TypeAlias = Literal["phosphoric", "sulfuric", "nitric", "citric"]
"""The acids of the trade.
- `phosphoric`: H3PO4.
- `sulfuric`: H2SO4.
- `nitric`: HNO3.
- `citric`: C6H8O7, as the anhydrous solid or its solution.
"""

AcidTarget: TypeAlias = AcidTargetPh | AcidTargetAlkalinityMgLCaco3
"""Target pH or alkalinity."""

AirBasis: TypeAlias = Literal["reading", "forecast", "assumed"]
"""How the air of a time is known.
- `reading`: From a reading, or between two.
- `forecast`: From a reading that lies after the start of the time looked at: a forecast.
- `assumed`: Assumed from the readings before: the last full day repeats, or a day's course by shelter and light.
"""

AirWord: TypeAlias = Literal["still", "light", "fan", "breezy", "windy"]
"""A word for the air movement at the leaves; its speeds are in `data/film.csv`
(common practice, no source).
- `still`: No movement felt: a closed case or cabinet (0.02–0.1 m/s).
- `light`: Leaves hang still, smoke drifts: an open room (0.1–0.4 m/s).
- `fan`: A fan on the plants: thin leaves tremble (0.3–1 m/s).
- `breezy`: Leaves move all the time: a shade house, an open door (1–2.5 m/s).
- `windy`: Twigs move: outdoors in wind (2.5–7 m/s).
"""

BasisName: TypeAlias = Literal[
    "N",
    "P",
    "P2O5",
    "K",
    "K2O",
    "Ca",
    "CaO",
    "Mg",
    "MgO",
    "S",
    "SO4",
    "Fe",
    "Mn",
    "Zn",
    "Cu",
    "B",
    "Mo",
    "Si",
]
"""The bases a nutrient target may be stated on."""

BlendTarget: TypeAlias = (
    BlendTargetEc25UsCm
    | BlendTargetAlkalinityMgLCaco3
    | BlendTargetHardnessMgLCaco3
    | BlendTargetNaMgL
    | BlendTargetClMgL
    | BlendTargetScaleMgLCaco3
)
"""What a blend should reach."""

CeilingName: TypeAlias = Literal[
    "ec25_us_cm",
    "urea_n_percent",
    "ammoniacal_n_percent",
    "na_mg_l",
    "cl_mg_l",
]
"""A ceiling of a recipe, by its field in [`Ceilings`].
- `ec25_us_cm`: Specific conductance at 25 °C.
- `urea_n_percent`: Urea N of all N.
- `ammoniacal_n_percent`: Ammoniacal N of all N.
- `na_mg_l`: Sodium.
- `cl_mg_l`: Chloride.
"""

Changed: TypeAlias = Literal["product", "water", "wetting-agent", "sprayer"]
"""What a change is one of.
- `product`: The product.
- `water`: The water.
- `wetting-agent`: The wetting agent.
- `sprayer`: The sprayer.
"""

ClockCode: TypeAlias = Literal[
    "c3-light-open",
    "c3-midday-dips",
    "cam-night-open",
    "cam-short-cycle",
    "cam-dawn-tail",
    "cam-late-afternoon",
    "vpd-narrows",
    "vpd-shuts",
    "cold-narrows",
    "cold-shuts",
    "heat-narrows",
    "heat-shuts",
    "air-unknown",
    "dry-no-day-tails",
    "dry-lowers",
    "drought-shuts",
    "either-pathway",
    "facultative-short-cycle",
    "facultative-split",
    "variable-share",
    "variable-share-unknown",
    "pathway-unknown",
    "leafless-root-only",
    "no-light",
    "no-night",
    "measured-peak",
    "off-peak",
    "cam-before-dawn-best",
    "cam-dusk-warm",
    "cam-dusk-if-dry",
    "dusk-not-in-winter",
    "dusk-not-in-cool-room",
    "cam-mid-night",
    "cam-after-dawn",
    "c3-morning-best",
    "c3-midday-dries",
    "c3-later-in-day",
    "either-pathway-first",
    "one-pathway-only",
    "polar-day",
    "polar-night",
    "wet-night-fine",
    "wet-night-near",
    "wet-night-too-long",
    "wet-night-cold-guess",
    "wet-night-warm-guess",
]
"""The code of a reason, such as `cam-night-open`."""

Co2: TypeAlias = Literal["closed"] | Co2OpenPco2Atm
"""Whether carbon dioxide is exchanged with the air."""

Code: TypeAlias = Literal[
    "out-of-range",
    "missing",
    "unknown-name",
    "duplicate-id",
    "conflict",
    "invalid-text",
    "unreachable",
    "outside-model",
    "too-many",
    "empty",
    "too-long",
    "unexpected-character",
    "no-number",
    "bad-number",
    "ambiguous-number",
    "second-number",
    "unwanted-number",
    "no-unit",
    "unknown-word",
    "ambiguous-word",
    "ambiguous-ppm",
    "conflicting-units",
    "no-such-quotient",
    "no-basis",
    "no-charge",
    "wrong-dimension",
    "not-convertible",
    "needs-bulk-density",
    "needs-density",
    "needs-light-source",
    "malformed-json",
    "wrong-form",
    "too-deep",
    "malformed-file",
    "stale",
    "no-readings",
    "unknown-call",
    "usage",
    "io",
    "storage",
    "network",
    "remote",
    "not-found",
    "method-not-allowed",
    "unsupported-media-type",
    "not-acceptable",
    "too-large",
    "slow-body",
    "malformed-http",
    "other-host",
    "not-paired",
    "wrong-code",
    "other-origin",
    "too-often",
    "busy",
    "timeout",
    "internal",
]
"""The kind of a fault."""

Convention: TypeAlias = Literal["one_in_n", "one_to_n"]
"""What the N of 1:N counts.
- `one_in_n`: One part of stock in N parts of finished solution: 1 L of stock and N − 1 L of water. The convention of greenhouse bulletins (Mattson, Cornell).
- `one_to_n`: One part of stock to N parts of water: N + 1 parts of finished solution.
"""

Dimension: TypeAlias = Literal[
    "mass",
    "volume",
    "length",
    "area",
    "time",
    "temperature",
    "temperature_interval",
    "pressure",
    "speed",
    "power",
    "irradiance",
    "luminous_flux",
    "illuminance",
    "photon_flux_density",
    "amount",
    "charge",
    "conductance",
    "conductivity",
    "meter_ppm",
    "ppm",
    "mass_per_volume",
    "as_basis",
    "feed_strength",
    "amount_per_volume",
    "charge_per_volume",
    "hardness",
    "alkalinity",
    "mass_fraction",
    "volume_fraction",
    "percentage",
    "humidity",
    "areal_mass",
    "injector_ratio",
]
"""A kind of quantity.
- `mass`: Mass.
- `volume`: Volume.
- `length`: Length.
- `area`: Area.
- `time`: Time.
- `temperature`: Absolute temperature.
- `temperature_interval`: Temperature difference.
- `pressure`: Pressure.
- `speed`: Speed of air.
- `power`: Power (only as part of an irradiance).
- `irradiance`: Power of radiation per area.
- `luminous_flux`: Luminous flux (only as part of an illuminance).
- `illuminance`: Illuminance: light on a surface as the eye weighs it.
- `photon_flux_density`: Photosynthetic photon flux density (PPFD): photons of 400 to 700 nm per area and time.
- `amount`: Amount of substance.
- `charge`: Amount of charge.
- `conductance`: Electrical conductance (only as part of a conductivity).
- `conductivity`: Electrical conductivity (EC).
- `meter_ppm`: EC shown as ppm by a meter on a TDS scale.
- `ppm`: Parts per million before its meaning is known.
- `mass_per_volume`: Mass per volume of solution, or the bulk density of a powder.
- `as_basis`: Mass concentration of an analyte on a basis.
- `feed_strength`: Mass concentration of everything dissolved from the feed.
- `amount_per_volume`: Amount of substance per volume.
- `charge_per_volume`: Amount of charge per volume.
- `hardness`: Hardness: calcium and magnesium together.
- `alkalinity`: Alkalinity: acid taken up.
- `mass_fraction`: Mass per mass.
- `volume_fraction`: Volume per volume.
- `percentage`: A percentage of something not stated.
- `humidity`: Relative humidity.
- `areal_mass`: Mass per area.
- `injector_ratio`: Injector ratio.
"""

EcCompensation: TypeAlias = Literal["linear", "natural_water"]
"""How EC is brought from one temperature to another (ISO 7888).
- `linear`: Linear, with the coefficient of the request or 1.9 %/K.
- `natural_water`: The non-linear function for natural waters, 0 to below 36 °C.
"""

EntryOutcome: TypeAlias = Literal["accepted", "known", "refused"]
"""Whether an entry is in the journal now.
- `accepted`: It was recorded.
- `known`: It was there already, word for word.
- `refused`: It was not recorded; the error says why.
"""

Event: TypeAlias = (
    EventRound
    | EventRootFeed
    | EventResidue
    | EventFlush
    | EventSoak
    | EventResponse
    | EventGrowth
    | EventWipe
    | EventTask
    | EventDone
    | EventNote
    | EventKind
)
"""What happened."""

EventOutput: TypeAlias = (
    EventOutputRound
    | EventOutputRootFeed
    | EventOutputResidue
    | EventOutputFlush
    | EventOutputSoak
    | EventOutputResponse
    | EventOutputGrowth
    | EventOutputWipe
    | EventOutputTask
    | EventOutputDone
    | EventOutputNote
    | EventOutputKind
)
"""What happened."""

FilmNoticeCode: TypeAlias = Literal["charge-imbalance"]
"""The kinds of notices.
- `charge-imbalance`: Cations and anions of the composition do not cancel.
"""

FilmState: TypeAlias = Literal["wet", "partly-solid", "dry"]
"""What is on the leaf at a humidity.
- `wet`: All feed salts are dissolved.
- `partly-solid`: Solids beside a solution that does not dry.
- `dry`: Solids alone (or nothing, for pure water).
"""

Finding: TypeAlias = Literal["right", "too-strong", "room-for-more", "not-known"]
"""Whether the feed strength is right.
- `right`: The usual strength is the one proposed, or so near that a change is not worth it.
- `too-strong`: Less is proposed.
- `room-for-more`: More is proposed.
- `not-known`: No round is recent enough, or nobody has looked.
"""

Form: TypeAlias = Literal["powder", "liquid"]
"""Whether the product is poured as a powder or as a liquid.
- `powder`: Powder, crystals or granules that dissolve.
- `liquid`: A liquid concentrate.
"""

Grade: TypeAlias = Literal["unknown", "inferred", "reported", "measured"]
"""How well a trait is known, from least to best.
- `unknown`: Nothing is known.
- `inferred`: Concluded from relatives, parents or anatomy.
- `reported`: A publication classifies the taxon.
- `measured`: An isotope ratio, acidity or gas exchange of that taxon was measured.
"""

Growth: TypeAlias = Literal["active", "resting", "unknown"]
"""Whether a plant grows.
- `active`: New leaves, growths or root tips are moving.
- `resting`: At rest.
- `unknown`: Not looked at.
"""

Habit: TypeAlias = Literal[
    "epiphyte",
    "lithophyte",
    "terrestrial",
    "mycoheterotroph",
    "mixed",
    "unknown",
]
"""Where the plants of a genus grow.
- `epiphyte`: On trees.
- `lithophyte`: On rock.
- `terrestrial`: In soil.
- `mycoheterotroph`: Without leaf green, fed by a fungus.
- `mixed`: More than one of these.
- `unknown`: Not known.
"""

HeldState: TypeAlias = Literal["waiting", "acknowledged", "shared"]
"""How far an entry is on its way.
- `waiting`: Only this device has it for certain.
- `acknowledged`: The journal has acknowledged it; it has not come back in a page yet.
- `shared`: It came from the journal.
"""

IrrigationHazard: TypeAlias = Literal[
    "salinity",
    "infiltration",
    "sodium_by_roots",
    "sodium_by_leaves",
    "chloride_by_roots",
    "chloride_by_leaves",
    "nitrate",
    "hydrogencarbonate_on_leaves",
    "ph",
]
"""What can be wrong with irrigation water.
- `salinity`: Salinity, by the specific conductance.
- `infiltration`: Infiltration into soil, by the specific conductance at the sodium adsorption ratio.
- `sodium_by_roots`: Sodium taken up by roots, by the sodium adsorption ratio.
- `sodium_by_leaves`: Sodium taken up by wetted leaves.
- `chloride_by_roots`: Chloride taken up by roots.
- `chloride_by_leaves`: Chloride taken up by wetted leaves.
- `nitrate`: Nitrate nitrogen.
- `hydrogencarbonate_on_leaves`: Hydrogencarbonate, which leaves deposits on wetted leaves.
- `ph`: pH outside the normal range.
"""

Leaf: TypeAlias = Literal[
    "thin",
    "intermediate",
    "thick",
    "terete",
    "leafless",
    "variable",
    "unknown",
]
"""The type of leaf. The thickness classes are those of the blade: thin below 0.5 mm,
intermediate 0.5–1.0 mm, thick above 1.0 mm.
- `thin`: A blade thinner than 0.5 mm.
- `intermediate`: A blade of 0.5 to 1.0 mm.
- `thick`: A blade thicker than 1.0 mm.
- `terete`: A leaf round in section, like a pencil.
- `leafless`: No leaf, or scales only: green roots or stems do the work.
- `variable`: The species of the genus, or the parents of the hybrid, differ.
- `unknown`: Not known.
"""

Level: TypeAlias = Literal["none", "faint", "clear", "heavy"]
"""How much residue was seen.
- `none`: Looked for and not seen.
- `faint`: Seen only in slanting light or when looked for.
- `clear`: Seen at once.
- `heavy`: A crust or white all over.
"""

LightKind: TypeAlias = Literal["sun", "lamps", "sun_and_lamps"]
"""Where the light of the plants comes from.
- `sun`: The sun.
- `lamps`: Lamps alone.
- `sun_and_lamps`: The sun, lengthened by lamps.
"""

LightSource: TypeAlias = Literal[
    "sunlight",
    "blue_sky",
    "high_pressure_sodium",
    "metal_halide",
    "cool_white_fluorescent",
    "incandescent",
]
"""A kind of light whose spectrum is known well enough to convert lux to PPFD.

White LEDs are not among them: their ratio runs over a wide range with colour temperature and
phosphor, so use the figure of the maker or a quantum meter.
- `sunlight`: Sun and sky together, also through clear glass.
- `blue_sky`: Blue sky without the sun.
- `high_pressure_sodium`: High-pressure sodium lamp.
- `metal_halide`: Metal halide lamp.
- `cool_white_fluorescent`: Cool white fluorescent lamp.
- `incandescent`: Incandescent lamp.
"""

MatchKind: TypeAlias = Literal[
    "genus",
    "species",
    "nothogenus",
    "cross",
    "synonym",
    "abbreviation",
    "spelling",
    "common name",
]
"""What kind of name a match is, in the order in which matches are listed.
- `genus`: An accepted genus.
- `species`: A species with records.
- `nothogenus`: A hybrid genus.
- `cross`: A cross of two genera written out.
- `synonym`: A generic name now included in another genus, or divided among several.
- `abbreviation`: An abbreviation of a genus.
- `spelling`: A common misspelling or variant spelling.
- `common name`: A common name of the trade.
"""

Measure: TypeAlias = Literal[
    "new_root",
    "new_leaf",
    "new_pseudobulb",
    "flower",
    "lost_leaf",
    "leaf_length_mm",
    "weight_g",
]
"""What is counted or measured on a plant.
- `new_root`: New roots since the look before.
- `new_leaf`: New leaves.
- `new_pseudobulb`: New pseudobulbs or growths.
- `flower`: Flowers that opened.
- `lost_leaf`: Leaves that were lost.
- `leaf_length_mm`: The length of the longest leaf, mm.
- `weight_g`: The weight, g.
"""

MeterReading: TypeAlias = (
    MeterReadingEcUsCm
    | MeterReadingPpm500
    | MeterReadingPpm640
    | MeterReadingPpm700
)
"""What a meter showed."""

NameEvidence: TypeAlias = Literal["from memory", "reported"]
"""How well it is known what a name stands for, from least to best.
- `from memory`: Entered from memory, not yet checked against a work.
- `reported`: Reported by the works cited.
"""

NameKind: TypeAlias = Literal[
    "synonym",
    "nothogenus",
    "spelling",
    "abbreviation",
    "common name",
]
"""What kind of name a [`NameRecord`] is.
- `synonym`: A generic name now included in another genus, or divided among several.
- `nothogenus`: A hybrid genus.
- `spelling`: A common misspelling or variant spelling.
- `abbreviation`: An abbreviation of a genus.
- `common name`: A common name of the trade.
"""

Nature: TypeAlias = Literal["feed", "scale", "unknown"]
"""What the residue is.
- `feed`: Feed salts: wiped off with plain water.
- `scale`: Carbonate scale: stays when wiped with plain water.
- `unknown`: Not known.
"""

NoticeCode: TypeAlias = Literal[
    "above-validity",
    "acid-into-water",
    "below-the-scale",
    "beyond-validity",
    "calcium-apart",
    "calcium-in-one-bag",
    "can-precipitate",
    "charge-imbalance",
    "closed-to-air",
    "counter-ions-assumed",
    "feed-strength-never-counts-water",
    "figures-assumed",
    "form-assumed",
    "label-and-local-rules",
    "leaves-not-stated",
    "liquid-solids-from-analysis",
    "material-misfit",
    "material-not-in-table",
    "materials-do-not-fit",
    "measure-after",
    "mixture-rule",
    "never-near-hypochlorite",
    "nitric-fumes",
    "nitrogen-forms-from-materials",
    "nitrogen-forms-unknown",
    "no-blend-needed",
    "no-buffer-left",
    "not-for-leaves",
    "not-soluble-in-the-cold",
    "open-to-air",
    "ph-assumed",
    "ph-from-balance",
    "ph-implausible",
    "precipitation",
    "protect-eyes-and-skin",
    "reading-close-to-water",
    "shelf",
    "softer-water-taken-as-pure",
    "solubility-unknown",
    "sulfuric-heat",
    "targets-not-met",
    "urea-invisible",
    "water-figures-assumed",
    "water-over-ceiling",
]
"""What a [`Notice`] is about. Stable for programs; kebab-case on the wire."""

Opens: TypeAlias = Literal["day", "night", "either", "unknown"]
"""When the stomata of the leaf are expected open.
- `day`: By day.
- `night`: By night.
- `either`: By day or by night: it differs with the species, the parent or the season.
- `unknown`: Not known, or there is no leaf to open.
"""

Organ: TypeAlias = Literal["leaf", "stem", "pseudobulb", "root", "flower", "whole"]
"""The plant part a value was measured on.
- `leaf`: A leaf.
- `stem`: A stem.
- `pseudobulb`: A pseudobulb.
- `root`: A root.
- `flower`: A flower or fruit.
- `whole`: The whole plant, or not stated.
"""

Outcome: TypeAlias = Literal["found", "ambiguous", "unknown", "not_an_orchid"]
"""Whether the name was understood.
- `found`: It stands for one taxon.
- `ambiguous`: It may stand for several; see `candidates`.
- `unknown`: It is not known.
- `not_an_orchid`: It is the name of a plant of another family, of which the tables say nothing.
"""

Pathway: TypeAlias = Literal["c3", "weak-cam", "cam", "facultative", "variable", "unknown"]
"""How a plant fixes carbon, which decides when its stomata open.
- `c3`: Carbon is taken up by day.
- `weak-cam`: Weak CAM: carbon is taken up by day, and some acid is gained by night.
- `cam`: Crassulacean acid metabolism: carbon is taken up mostly by night.
- `facultative`: C3 that turns to CAM, in part or wholly, under drought or with age.
- `variable`: The species of the genus, or the parents of the hybrid, differ.
- `unknown`: Not known.
"""

PeakTime: TypeAlias = Literal[
    "pre-dawn",
    "evening",
    "night",
    "forenoon",
    "noon",
    "afternoon",
]
"""The time of day at which the widest opening was measured.
- `pre-dawn`: The last hours of the night.
- `evening`: The hours around and after sunset.
- `night`: The middle of the night.
- `forenoon`: The hours between sunrise and noon.
- `noon`: Around noon.
- `afternoon`: The hours between noon and sunset.
"""

PercentOf: TypeAlias = Literal["mass", "volume"]
"""What the percentages of the label are percent of.
- `mass`: Grams in 100 g of product (w/w), the rule for United States labels.
- `volume`: Grams in 100 mL of product (w/v), allowed for liquids elsewhere.
"""

Phase: TypeAlias = Literal["day-open", "phase-i", "phase-ii", "phase-iv"]
"""Which opening of the day it is. The phases are those of CAM (Osmond 1978).
- `day-open`: A C3 leaf in the light.
- `phase-i`: A CAM leaf in the dark.
- `phase-ii`: A CAM leaf after dawn.
- `phase-iv`: A CAM leaf before dusk.
"""

Place: TypeAlias = Literal["leaf", "root_tip", "pot_surface"]
"""Where residue was seen.
- `leaf`: On a leaf.
- `root_tip`: On a root tip.
- `pot_surface`: On the pot or the top of the mix.
"""

PpmMeaning: TypeAlias = Literal["n", "meter_500", "meter_640", "meter_700", "feed"]
"""What a bare ppm means to this grower. There is no default.
- `n`: mg/L of nitrogen.
- `meter_500`: A meter on the 500 scale.
- `meter_640`: A meter on the 640 scale.
- `meter_700`: A meter on the 700 scale.
- `feed`: mg/L of everything dissolved from the feed.
"""

Rank: TypeAlias = Literal["genus", "species", "nothogenus", "cross", "unknown"]
"""What kind of taxon a name stands for.
- `genus`: An accepted genus.
- `species`: A species.
- `nothogenus`: A hybrid genus.
- `cross`: A cross of two genera written out.
- `unknown`: Not known, or ambiguous.
"""

Read: TypeAlias = Literal["full text", "abstract", "table in a later work", "memory"]
"""How much of a work was read by the person who entered it.
- `full text`: The full text.
- `abstract`: The abstract only.
- `table in a later work`: A table of it as reprinted in a later work.
- `memory`: Not read: cited from memory.
"""

Restriction: TypeAlias = Literal["none", "slight_to_moderate", "severe"]
"""Degree of restriction on use.
- `none`: No restriction.
- `slight_to_moderate`: Slight to moderate restriction.
- `severe`: Severe restriction.
"""

Setting: TypeAlias = Literal["mounted", "basket", "potted", "landscape"]
"""How a plant is grown.
- `mounted`: On bark, wood or in a tree.
- `basket`: In an open basket.
- `potted`: In a pot.
- `landscape`: Planted out.
"""

Shelter: TypeAlias = Literal["room", "glass", "outdoors"]
"""How an area is sheltered.
- `room`: A room of a house.
- `glass`: A glasshouse.
- `outdoors`: Outdoors.
"""

Side: TypeAlias = Literal["lower", "upper", "both"]
"""A side of a leaf.
- `lower`: The lower side.
- `upper`: The upper side.
- `both`: Both sides, where the work gives no density of either.
"""

Sign: TypeAlias = Literal["root_tip", "new_growth", "bud", "loss"]
"""A sign of growth, or the end of it.
- `root_tip`: A new or moving root tip.
- `new_growth`: A new shoot or leaf.
- `bud`: A spike or bud.
- `loss`: The plant died.
"""

SizeClass: TypeAlias = Literal["small", "medium", "large", "specimen"]
"""The size of a plant, by leaf area.
- `small`: About 100 cm² of leaf, one side.
- `medium`: About 400 cm².
- `large`: About 1500 cm².
- `specimen`: About 5000 cm².
"""

Standing: TypeAlias = Literal["established", "ordinary", "seedling", "weak", "rootless"]
"""How strong a plant is.
- `established`: Rooted in for years and growing well.
- `ordinary`: Neither of the others.
- `seedling`: A seedling.
- `weak`: Small, weak or recovering.
- `rootless`: Without living roots.
"""

StrengthReason: TypeAlias = Literal[
    "reports",
    "cap",
    "guard",
    "reports-plain-water",
    "guard-plain-water",
    "no-usual-day",
]
"""What decides the proposed strength.
- `reports`: The reports: a stronger feed would be seen more often than is accepted.
- `cap`: The cap: the reports would allow more, practice gives such plants no more.
- `guard`: White was seen: at most half of that strength until looks are clean again.
- `reports-plain-water`: Plain water: even the least useful strength would be seen more often than is accepted.
- `guard-plain-water`: Plain water: white was seen at so low a strength that half of it is not worth giving.
- `no-usual-day`: The cap, for want of a recent round with a modelled residue: the reports cannot be judged.
"""

SunCourse: TypeAlias = Literal[
    "rises-and-sets",
    "rises-only",
    "sets-only",
    "polar-day",
    "polar-night",
]
"""What the sun does on a civil date.
- `rises-and-sets`: It rises and sets on this date.
- `rises-only`: It rises and does not set again on this date.
- `sets-only`: It sets and does not rise on this date.
- `polar-day`: It stays up all day.
- `polar-night`: It stays down all day, though there may be civil twilight.
"""

Target: TypeAlias = (
    TargetNutrient
    | TargetFeedStrength
    | TargetEc25
    | TargetEc25AboveWater
)
"""One target."""

TargetMeaning: TypeAlias = Literal["added-feed", "total"]
"""What the figures of a target count.
- `added-feed`: What the feed adds; the water's own comes on top, and the meter reads both.
- `total`: Feed and water together: what the water holds is subtracted.
"""

Verdict: TypeAlias = Literal["feed", "wait", "water-only", "leave"]
"""What to do with a plant.
- `feed`: Feed in the window given.
- `wait`: Nothing yet: a later window or date is given.
- `water-only`: Plain water only.
- `leave`: Leave alone.
"""

WaterStatus: TypeAlias = Literal["watered", "drought", "severe_drought"]
"""How well the plant is supplied with water.
- `watered`: Watered as usual, not short of water.
- `drought`: Dry for some days: CAM keeps to the night, facultative plants turn to CAM.
- `severe_drought`: Shrivelled: stomata stay shut day and night.
"""

WetSides: TypeAlias = Literal["one", "both"]
"""Which sides of the leaf are wet.
- `one`: One side; the other exchanges heat and stays dry.
- `both`: Both sides, each with the film load.
"""

Winter: TypeAlias = Literal["rest", "grow"]
"""Whether plants under cover that see the sun alone rest in the dark months.
- `rest`: They rest: no evening misting while the days are short, and in a room nothing is misted but weak and rootless plants.
- `grow`: Growth goes on, by warmth or by lamps that are not described here.
"""
