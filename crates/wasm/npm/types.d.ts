// The types of requests and answers, one a schema, and of every call.
//
// Made with `cargo xtask npm`; do not edit. Field names end in their unit.

/**
 * The acids of the trade.
 * - `phosphoric`: H3PO4.
 * - `sulfuric`: H2SO4.
 * - `nitric`: HNO3.
 * - `citric`: C6H8O7, as the anhydrous solid or its solution.
 */
export type AcidName = "phosphoric" | "sulfuric" | "nitric" | "citric";

/** A question about acid. */
export interface AcidRequest {
  /** Which acid. */
  acid: AcidName;
  /** Density of the liquid acid, kg/L; omitted for a solid, which is weighed. */
  density_kg_l?: number | null;
  /** Its strength, percent by mass. */
  strength_percent: number;
  /** The target. */
  target: AcidTarget;
  /** How much water, L. */
  volume_l: number;
  /** The water; alkalinity is needed, and pH where the target is a pH. */
  water: WaterReport;
}

/** How much acid, and what it does. */
export interface AcidResponse {
  /**
   * Alkalinity left, mg/L as CaCO3, as a titration of the treated water to
   * `alkalinity_end_point_ph` finds it: carbonate, and what phosphate or citrate takes up on the
   * way to that pH.
   */
  alkalinity_after_mg_l_caco3: number;
  /** Alkalinity before, mg/L as CaCO3, to the same end point. */
  alkalinity_before_mg_l_caco3: number;
  /** End point of the titration that defines alkalinity (Standard Methods 2320 B). */
  alkalinity_end_point_ph: number;
  /**
   * The part of it that is carbonate and hydroxide, mg/L as CaCO3: what becomes scale when the
   * water dries.
   */
  carbonate_alkalinity_after_mg_l_caco3: number;
  /** The cautions, always in full. */
  cautions: Array<Notice>;
  /** Acid to add, g. */
  mass_g: number;
  /** N added, mg/L. */
  n_mg_l: number;
  /** Alkalinity neutralised, mg/L as CaCO3. */
  neutralised_mg_l_caco3: number;
  /** P added, mg/L as P. */
  p_mg_l: number;
  /** pH after, before the CO2 set free has escaped. */
  ph_after: number;
  /** pH once the CO2 has escaped and the water is at rest with outdoor air. */
  ph_after_co2_has_left: number;
  /** Protons that one mole of the acid gives up at that pH. */
  protons_per_mole: number;
  /** S added, mg/L as S. */
  s_mg_l: number;
  /** Acid to add, mL, where a density was given. */
  volume_ml?: number | null;
  /** What a reader should know. */
  warnings: Array<Notice>;
}

/** Target pH or alkalinity. */
export type AcidTarget = AcidTargetPh | AcidTargetAlkalinityMgLCaco3;

/** This much alkalinity left, mg/L as CaCO3, as a titration to pH 4.5 finds it. */
export interface AcidTargetAlkalinityMgLCaco3 {
  alkalinity_mg_l_caco3: number;
}

/** This pH, before the CO2 set free has escaped (4–8.3). */
export interface AcidTargetPh {
  ph: number;
}

/** What became of a plan of soaks. */
export interface Adherence {
  /** The moment it was drawn up for, RFC 3339. */
  at: string;
  /** Soaks that were logged and belong to none of the plan. */
  beside_the_plan: number;
  /** Whole days since the first planned soak. */
  days: number;
  /** Days on which soaks were planned and none was logged. */
  days_missed: number;
  /** Planned soaks that were logged. */
  done: Array<DoneSoak>;
  /** Planned soaks that were not. */
  missed: Array<Soak>;
  /** Soaks planned up to now. */
  planned: number;
  /** The plant. */
  plant: string;
  /** What that means, most important first. */
  says: Array<ReasonOutput>;
  /** Signs of growth, or the end, that were logged since, in order of time. */
  signs: Array<SeenSign>;
}

/** A request for the adherence to a plan of soaks. */
export interface AdherenceRequest {
  /** The moment it is drawn up for, RFC 3339 with offset; later entries are left out. */
  at: string;
  /** What was done and seen, in any order; at most 100,000. */
  entries: Array<EntryInput>;
  /** The grower's identifier of the plant. */
  plant: string;
  /** The planned soaks, as the plan gives them. */
  soaks: Array<Soak>;
}

/** A request for advice: who may be fed, when, how strong. */
export interface AdviceRequest {
  /** When the answer starts: a date (`2026-06-21`, taken as local noon) or an RFC 3339 time. */
  at: string;
  /**
   * The product that is fed, as its label states it. Without it the feed is taken as unknown
   * salts and the answer says what that leaves open.
   */
  feed?: Label | null;
  /** How many hours the answer looks ahead; 36 when not given (tonight and tomorrow). */
  hours?: number;
  /**
   * Whether the turn is one of plain water: nobody is fed, whoever could be is misted with water
   * alone, and no product is needed.
   */
  plain_water?: boolean;
  /** The plants. */
  plants: Array<PlantEntry>;
  /** The air: one reading (advice for now) or an hourly series (advice by window). */
  readings: Array<Reading>;
  /** The place, its areas and its grower. */
  site: SiteDescription;
  /**
   * The water the feed is mixed with and the mister topped up with. Without it, pure water is
   * assumed and the answer says so.
   */
  water?: WaterReport | null;
}

/** Advice for a collection. */
export interface AdviceResponse {
  /** Each area with plants: its air, who is fed, and what would help the others. */
  areas: Array<AreaAdvice>;
  /** What holds for the whole answer: cautions and assumptions. */
  cautions: Array<ReasonOutput>;
  /** Start of the time looked at, RFC 3339. */
  from: string;
  /** One entry a plant, in the order asked. */
  plants: Array<PlantAdvice>;
  /** The site it is for. */
  site: string;
  /** The works that the reasons cite. */
  sources: Array<Citation>;
  /** End of the time looked at, RFC 3339. */
  to: string;
}

/**
 * How the air of a time is known.
 * - `reading`: From a reading, or between two.
 * - `forecast`: From a reading that lies after the start of the time looked at: a forecast.
 * - `assumed`: Assumed from the readings before: the last full day repeats, or a day's course by shelter and light.
 */
export type AirBasis = "reading" | "forecast" | "assumed";

/** One air movement. */
export interface AirColumn {
  /** The speed it stands for, m/s. */
  m_s: number;
  /** The word. */
  word: AirWord;
}

/** Air to describe. */
export interface AirRequest {
  /** Air pressure in kPa; 101.325 by default. */
  pressure_kpa?: number | null;
  /** Relative humidity over water in %. */
  rh_percent: number;
  /** Air temperature in °C. */
  temp_c: number;
}

/** What the air holds. Saturation is over liquid water throughout, also below 0 °C. */
export interface AirResponse {
  /** Density of the moist air in kg/m³. */
  density_kg_m3: number;
  /** Dew point in °C. */
  dew_point_c: number;
  /** Mass of vapour per mass of dry air in kg/kg. */
  humidity_ratio_kg_kg: number;
  /** Latent heat of vaporisation in kJ/kg. */
  latent_heat_kj_kg: number;
  /** Saturation pressure at the air temperature in Pa. */
  saturation_pressure_pa: number;
  /** Diffusivity of water vapour in m²/s. */
  vapour_diffusivity_m2_s: number;
  /** Partial pressure of water vapour in Pa. */
  vapour_pressure_pa: number;
  /** Vapour pressure deficit in kPa. */
  vpd_kpa: number;
  /** Thermodynamic wet-bulb temperature in °C. */
  wet_bulb_c: number;
}

/**
 * A word for the air movement at the leaves; its speeds are in `data/film.csv`
 * (common practice, no source).
 * - `still`: No movement felt: a closed case or cabinet (0.02–0.1 m/s).
 * - `light`: Leaves hang still, smoke drifts: an open room (0.1–0.4 m/s).
 * - `fan`: A fan on the plants: thin leaves tremble (0.3–1 m/s).
 * - `breezy`: Leaves move all the time: a shade house, an open door (1–2.5 m/s).
 * - `windy`: Twigs move: outdoors in wind (2.5–7 m/s).
 */
export type AirWord = "still" | "light" | "fan" | "breezy" | "windy";

/** Plants that get nothing now, for one reason. */
export interface Alone {
  /** What would make a window, or until when to wait; empty where nothing is needed. */
  changes: Array<string>;
  /** The plants. */
  plants: Array<PlantRef>;
  /** Why. */
  reason: Reason;
  /** `wait`, `water-only` or `leave`. */
  verdict: Verdict;
}

/** Plants that get nothing now, for one reason. */
export interface AloneOutput {
  /** What would make a window, or until when to wait; empty where nothing is needed. */
  changes: Array<string>;
  /** The plants. */
  plants: Array<PlantRef>;
  /** Why. */
  reason: ReasonOutput;
  /** `wait`, `water-only` or `leave`. */
  verdict: Verdict;
}

/** An area as a whole. */
export interface AreaAdvice {
  /** The identifier. */
  area: string;
  /** How the air of the time looked at is known: the weakest of it. */
  basis: AirBasis;
  /** What would help those that are not fed, each change once, cheapest first. */
  changes?: Array<AreaChange>;
  /** Plants that are fed. */
  fed: number;
  /** The name in words. */
  name: string;
  /** Plants in growth and with roots that are not fed. */
  not_fed: number;
  /** The last reading of its air, RFC 3339 with offset. */
  readings_until?: string | null;
}

/** A change that would help plants of an area, at the figure that serves all of those it helps. */
export interface AreaChange {
  /** The code, kebab-case English: one of [`codes`](crate::codes). */
  code: string;
  /** The figures, each with its unit in its name. */
  inputs?: Record<string, unknown>;
  /** The change in words, with its figures. */
  message: string;
  /** How many plants it would help. */
  plants: number;
}

/** One part of a site. */
export interface AreaDescription {
  /** Air speed in m/s used where a reading has none. */
  air_m_s?: number | null;
  /** The identifier that plants and readings name. */
  id: string;
  /** Lamps that are on and off in turn, instead of lamp hours. */
  lamp_cycle?: LampCycle | null;
  /** Lamp hours; these or a cycle are required when `light` has lamps. */
  lamps?: Array<LampRun>;
  /** Where its light comes from. */
  light?: LightKind;
  /** The name in words. */
  name: string;
  /** Under a roof, under glass, or outdoors. */
  shelter: Shelter;
  /** What the plants of the area have had to drink. */
  water_status?: WaterStatus;
  /** Whether its plants rest in the dark months; says nothing of lamp-lit areas and outdoors. */
  winter?: Winter;
}

/** An entry that the journal does not take, kept for the grower to decide. */
export interface Aside {
  /** The entry. */
  entry: EntryInput;
  /** Why it was refused. */
  error: Error;
}

/** An entry that the journal does not take, kept for the grower to decide. */
export interface AsideOutput {
  /** The entry. */
  entry: Entry;
  /** Why it was refused. */
  error: ErrorOutput;
}

/** One figure the report did not state. */
export interface Assumed {
  /** How it was arrived at. */
  how: string;
  /** The unit as a UCUM code. */
  unit: string;
  /** The assumed value, in `unit`. */
  value: number;
  /** Which figure, such as `na` or `ph`. */
  what: string;
}

/** The bases a nutrient target may be stated on. */
export type BasisName = "N" | "P" | "P2O5" | "K" | "K2O" | "Ca" | "CaO" | "Mg" | "MgO" | "S" | "SO4" | "Fe" | "Mn" | "Zn" | "Cu" | "B" | "Mo" | "Si";

/** A blend of this water with softer water. */
export interface BlendRequest {
  /** What the blend should reach. */
  target: BlendTarget;
  /** The softer water's report; if omitted, it is taken as pure water and the answer says so. */
  with?: WaterReport | null;
}

/** The blend that reaches the target. */
export interface BlendResponse {
  /** Alkalinity of the blend, mg/L as CaCO3. */
  alkalinity_mg_l_caco3: number;
  /** Specific conductance of the blend, µS/cm at 25 °C. */
  ec25_us_cm: number;
  /** Hardness of the blend, mg/L as CaCO3. */
  hardness_mg_l_caco3: number;
  /** What the blend leaves when it dries. */
  residue: WaterResidue;
  /** The share of the softer water, percent by volume. */
  softer_water_percent: number;
  /** The share of this water, percent by volume. */
  this_water_percent: number;
  /** What the answer rests on. */
  warnings?: Array<Notice>;
}

/** What a blend should reach. */
export type BlendTarget = BlendTargetEc25UsCm | BlendTargetAlkalinityMgLCaco3 | BlendTargetHardnessMgLCaco3 | BlendTargetNaMgL | BlendTargetClMgL | BlendTargetScaleMgLCaco3;

/** Alkalinity, mg/L as CaCO3. */
export interface BlendTargetAlkalinityMgLCaco3 {
  alkalinity_mg_l_caco3: number;
}

/** Chloride, mg/L. */
export interface BlendTargetClMgL {
  cl_mg_l: number;
}

/** Specific conductance (25 °C), µS/cm. */
export interface BlendTargetEc25UsCm {
  ec25_us_cm: number;
}

/** Hardness, mg/L as CaCO3. */
export interface BlendTargetHardnessMgLCaco3 {
  hardness_mg_l_caco3: number;
}

/** Sodium, mg/L. */
export interface BlendTargetNaMgL {
  na_mg_l: number;
}

/** The carbonate scale the blend leaves when it dries, mg/L as CaCO3. */
export interface BlendTargetScaleMgLCaco3 {
  scale_mg_l_caco3: number;
}

/** A ceiling that keeps a target from being met. */
export interface Blocking {
  /** The ceiling, by its field. */
  ceiling: CeilingName;
  /** Its limit. */
  limit: number;
  /** The same as a sentence. */
  message: string;
  /** What the targets would need. */
  needed: number;
  /** How far that is over, in the ceiling's unit. */
  over: number;
}

/**
 * A quantity with its bounds. `value` is absent where only the bounds are known, as with the EC
 * of a feed whose counter-ions its label does not name.
 */
export interface Bounds {
  /** The high end. */
  high: number;
  /** The low end. */
  low: number;
  /** The most likely value, if there is one. */
  value?: number | null;
}

/** What to mix, once. */
export interface Bucket {
  /** Specific conductance a meter will read, µS/cm, water and feed together. */
  ec25_us_cm: Bounds;
  /** Feed strength, mg/L of dissolved feed, as it comes out after weighing on the scale. */
  feed_strength_mg_l: number;
  /** Hours it may be used. */
  keeps_hours: number;
  /** Product, without its supplements, to weigh into it, g; none for a liquid, and where a stock solution is measured out. */
  mass_g?: number | null;
  /** The same reading on the TDS scales, ppm. */
  meter_ppm: MeterPpm;
  /** What the mix is called where supplements go into it: the product with their names. */
  mix?: string | null;
  /** Nitrogen from the feed, mg/L. */
  n_mg_l: number;
  /** The product. */
  product: string;
  /**
   * The stock solution to measure out, where the scale or the syringe is too coarse for the
   * product itself.
   */
  stock?: Stock | null;
  /** What is left in it when every fill is taken, and what it is good for. */
  surplus?: Surplus | null;
  /** Of it, urea nitrogen, which a meter does not see, mg/L. */
  urea_n_mg_l: number;
  /** Product to measure into it, mL; none for a powder, and where a stock solution is measured out. */
  volume_ml?: number | null;
  /** Specific conductance of the water before anything is added, µS/cm. */
  water_ec25_us_cm: number;
  /** Water, L. */
  water_l: number;
  /** How far half a step of the scale and of the syringe moves the strength, %. */
  weighing_error_percent?: number | null;
  /**
   * What is weighed or measured into it beside the product. Never into a stock solution of the
   * product: calcium with sulfate or phosphate turns solid there.
   */
  with?: Array<BucketSupplement>;
}

/** What to mix, once. */
export interface BucketOutput {
  /** Specific conductance a meter will read, µS/cm, water and feed together. */
  ec25_us_cm: Bounds;
  /** Feed strength, mg/L of dissolved feed, as it comes out after weighing on the scale. */
  feed_strength_mg_l: number;
  /** Hours it may be used. */
  keeps_hours: number;
  /** Product, without its supplements, to weigh into it, g; none for a liquid, and where a stock solution is measured out. */
  mass_g?: number | null;
  /** The same reading on the TDS scales, ppm. */
  meter_ppm: MeterPpm;
  /** What the mix is called where supplements go into it: the product with their names. */
  mix?: string | null;
  /** Nitrogen from the feed, mg/L. */
  n_mg_l: number;
  /** The product. */
  product: string;
  /**
   * The stock solution to measure out, where the scale or the syringe is too coarse for the
   * product itself.
   */
  stock?: Stock | null;
  /** What is left in it when every fill is taken, and what it is good for. */
  surplus?: SurplusOutput | null;
  /** Of it, urea nitrogen, which a meter does not see, mg/L. */
  urea_n_mg_l: number;
  /** Product to measure into it, mL; none for a powder, and where a stock solution is measured out. */
  volume_ml?: number | null;
  /** Specific conductance of the water before anything is added, µS/cm. */
  water_ec25_us_cm: number;
  /** Water, L. */
  water_l: number;
  /** How far half a step of the scale and of the syringe moves the strength, %. */
  weighing_error_percent?: number | null;
  /**
   * What is weighed or measured into it beside the product. Never into a stock solution of the
   * product: calcium with sulfate or phosphate turns solid there.
   */
  with?: Array<BucketSupplement>;
}

/** A supplement of a bucket. */
export interface BucketSupplement {
  /**
   * Mass to weigh into the bucket, g; none for a liquid, and where a stock solution is measured
   * out.
   */
  mass_g?: number | null;
  /** The name on its label. */
  product: string;
  /** The stock solution of it to measure out. */
  stock?: Stock | null;
  /** Volume to measure into it, mL; none for a powder, and where a stock solution is measured out. */
  volume_ml?: number | null;
}

/** How many of the measured species show CAM. */
export interface CamFraction {
  /** Species with CAM. */
  cam_species: number;
  /** Species measured. */
  measured_species: number;
  /** The share, from 0 to 1. */
  share: number;
}

/** Asks for every name of the tables. */
export type CatalogueRequest = Record<string, never>;

/** Every name of the tables, for a look-up without a connection. */
export interface CatalogueResponse {
  /** Every genus and other name, in alphabetical order within each kind. */
  names: Array<SearchMatch>;
}

/**
 * A ceiling of a recipe, by its field in [`Ceilings`].
 * - `ec25_us_cm`: Specific conductance at 25 °C.
 * - `urea_n_percent`: Urea N of all N.
 * - `ammoniacal_n_percent`: Ammoniacal N of all N.
 * - `na_mg_l`: Sodium.
 * - `cl_mg_l`: Chloride.
 */
export type CeilingName = "ec25_us_cm" | "urea_n_percent" | "ammoniacal_n_percent" | "na_mg_l" | "cl_mg_l";

/** Limits that a recipe must not pass, counting feed and water together. */
export interface Ceilings {
  /** Ammoniacal N, percent of all N. */
  ammoniacal_n_percent?: number | null;
  /** Chloride, mg/L. */
  cl_mg_l?: number | null;
  /** Specific conductance at 25 °C, µS/cm. */
  ec25_us_cm?: number | null;
  /** Sodium, mg/L. */
  na_mg_l?: number | null;
  /** Urea N, percent of all N. */
  urea_n_percent?: number | null;
}

/** Something that would make a window, computed, or until when to wait. */
export interface Change {
  /** The code, kebab-case English: one of [`codes`](crate::codes). */
  code: string;
  /** The figures, each with its unit in its name. */
  inputs?: Record<string, unknown>;
  /** The change in words, with its figures. */
  message: string;
  /** The window it would open. */
  window?: WindowOutput | null;
}

/** A recorded change of what is sprayed, or with what. */
export interface Change2 {
  /** The day of the first round with it, `YYYY-MM-DD`. */
  day: string;
  /** What it changed to. */
  to: string;
  /** What changed. */
  what: Changed;
}

/**
 * What a change is one of.
 * - `product`: The product.
 * - `water`: The water.
 * - `wetting-agent`: The wetting agent.
 * - `sprayer`: The sprayer.
 */
export type Changed = "product" | "water" | "wetting-agent" | "sprayer";

/** A cited work on the wire. */
export interface Citation {
  /** The DOI, if known. */
  doi?: string | null;
  /** The key, as in the lists of sources of an answer. */
  key: string;
  /** How much of it was read by the person who entered it. */
  read: Read;
  /** Author, year, title and place of publication in one line. */
  work: string;
}

/** The code of a reason, such as `cam-night-open`. */
export type ClockCode = "c3-light-open" | "c3-midday-dips" | "cam-night-open" | "cam-short-cycle" | "cam-dawn-tail" | "cam-late-afternoon" | "vpd-narrows" | "vpd-shuts" | "cold-narrows" | "cold-shuts" | "heat-narrows" | "heat-shuts" | "air-unknown" | "dry-no-day-tails" | "dry-lowers" | "drought-shuts" | "either-pathway" | "facultative-short-cycle" | "facultative-split" | "variable-share" | "variable-share-unknown" | "pathway-unknown" | "leafless-root-only" | "no-light" | "no-night" | "measured-peak" | "off-peak" | "cam-before-dawn-best" | "cam-dusk-warm" | "cam-dusk-if-dry" | "dusk-not-in-winter" | "dusk-not-in-cool-room" | "cam-mid-night" | "cam-after-dawn" | "c3-morning-best" | "c3-midday-dries" | "c3-later-in-day" | "either-pathway-first" | "one-pathway-only" | "polar-day" | "polar-night" | "wet-night-fine" | "wet-night-near" | "wet-night-too-long" | "wet-night-cold-guess" | "wet-night-warm-guess";

/** Whether carbon dioxide is exchanged with the air. */
export type Co2 = "closed" | Co2OpenPco2Atm;

/**
 * In equilibrium with air of this partial pressure of CO2, in atm (about 4.2e-4 outdoors):
 * `dic` follows and the one given is not used.
 */
export interface Co2OpenPco2Atm {
  open_pco2_atm: number;
}

/** The kind of a fault. */
export type Code = "out-of-range" | "missing" | "unknown-name" | "duplicate-id" | "conflict" | "invalid-text" | "unreachable" | "outside-model" | "too-many" | "empty" | "too-long" | "unexpected-character" | "no-number" | "bad-number" | "ambiguous-number" | "second-number" | "unwanted-number" | "no-unit" | "unknown-word" | "ambiguous-word" | "ambiguous-ppm" | "conflicting-units" | "no-such-quotient" | "no-basis" | "no-charge" | "wrong-dimension" | "not-convertible" | "needs-bulk-density" | "needs-density" | "needs-light-source" | "malformed-json" | "wrong-form" | "too-deep" | "malformed-file" | "stale" | "no-readings" | "unknown-call" | "usage" | "io" | "storage" | "network" | "remote" | "not-found" | "method-not-allowed" | "unsupported-media-type" | "not-acceptable" | "too-large" | "slow-body" | "malformed-http" | "other-host" | "not-paired" | "wrong-code" | "other-origin" | "too-often" | "busy" | "timeout" | "internal";

/** The air of the day and the residue modelled for it. */
export interface Conditions {
  /** Air speed at the leaves in m/s, 0 to 30. */
  air_m_s?: number | null;
  /** Modelled residue of feed salts, g/m², 0 to 20. */
  residue_g_m2?: number | null;
  /**
   * Its log-normal uncertainty (standard deviation of the natural logarithm), that of the film
   * load included, 0.01 to 3.
   */
  residue_log_sd?: number | null;
  /** Relative humidity in %, 0 to 100. */
  rh_percent?: number | null;
  /** Modelled carbonate scale from the water alone, g/m², 0 to 20. */
  scale_g_m2?: number | null;
  /** Air temperature in °C, −5 to 50. */
  temp_c?: number | null;
}

/** Figures of a report that do not agree. */
export interface Contradiction {
  /** A stable code in kebab case, such as `ec-against-ions`. */
  code: string;
  /**
   * The report's fields most likely off, the likeliest first; several where they cannot be
   * distinguished.
   */
  likely_off: Array<string>;
  /** What disagrees, with figures. */
  message: string;
}

/**
 * What the N of 1:N counts.
 * - `one_in_n`: One part of stock in N parts of finished solution: 1 L of stock and N − 1 L of water. The convention of greenhouse bulletins (Mattson, Cornell).
 * - `one_to_n`: One part of stock to N parts of water: N + 1 parts of finished solution.
 */
export type Convention = "one_in_n" | "one_to_n";

/** A quantity and what to convert it to. */
export interface ConvertRequest {
  /**
   * The bulk density of a powder, such as `0.93 g/mL` or `4.6 g/tsp`; needed between spoonfuls
   * and mass, and only there.
   */
  bulk_density?: string | null;
  /**
   * The density of a liquid, such as `1.24 kg/L`; needed between shares by mass and mass per
   * volume, and between volume and mass of a liquid.
   */
  density?: string | null;
  /** How EC is brought from one temperature to another; linear by default. */
  ec_compensation?: EcCompensation | null;
  /** The coefficient of linear compensation in per cent per kelvin, 0 to 10; 1.9 by default. */
  ec_percent_per_k?: number | null;
  /** The light source; needed between lux and photon flux density, and only there. */
  light_source?: LightSource | null;
  /** What a bare ppm means to this grower; a bare ppm is refused by default. */
  ppm_means?: PpmMeaning | null;
  /** The quantity as written, such as `120 ppm P2O5`, `14 °dH` or `1.4 mS/cm at 18 °C`. */
  quantity: string;
  /** The unit and basis to convert to, such as `ppm P`, `mg/L CaCO3` or `mS/cm at 25 °C`. */
  to: string;
}

/** A converted quantity. */
export interface ConvertResponse {
  /**
   * What it is counted as or read on: `P`, `CaCO3`, `feed`, `meter 500`, `at 25 °C`; null where
   * the unit is enough.
   */
  basis: string | null;
  /** What was converted. */
  from: ReadQuantity;
  /** The kind of quantity. */
  kind: Dimension;
  /** The conversion in one line. */
  message: string;
  /** What was assumed or has to be known. */
  notes: Array<string>;
  /** Where the definitions and factors are published. */
  sources: Array<string>;
  /** The unit: a UCUM code where there is one, else the usual symbol. */
  unit: string;
  /** The number in `unit`, to ten significant digits. */
  value: number;
}

/** One point of the two distributions. */
export interface CurvePoint {
  /** Posterior probability density in the natural logarithm of the threshold. */
  posterior_density: number;
  /** Prior probability density in the natural logarithm of the threshold. */
  prior_density: number;
  /** The threshold, g/m². */
  threshold_g_m2: number;
}

/** Measured values of δ¹³C. */
export interface D13cPermil {
  /** The least negative value, in ‰ against VPDB. */
  high: number;
  /** The most negative value, in ‰ against VPDB. */
  low: number;
  /** How many values (of a species) or species (of a genus). */
  n: number;
}

/** A question about one date at one location. */
export interface DayRequest {
  /** The local date, `YYYY-MM-DD`, 1900 to 2200. */
  date: string;
  /** The air hour by hour, in order of time; openings are not narrowed outside it. */
  hours?: Array<HourOfAir>;
  /** Lamps that are on and off in turn, instead of lamp hours. */
  lamp_cycle?: LampCycle | null;
  /** Lamp hours; these or a cycle are required when `light` has lamps. */
  lamps?: Array<LampRun>;
  /** Latitude in degrees, north positive. */
  latitude_deg: number;
  /** Where the light comes from. */
  light?: LightKind;
  /** Longitude in degrees, east positive. */
  longitude_deg: number;
  /** Whether the plants are in the open. */
  outdoors?: boolean;
  /** IANA time zone, such as `Europe/London`. */
  time_zone: string;
  /** What the plants have had to drink. */
  water_status?: WaterStatus;
}

/** The sun, the light and the openings of one date. */
export interface DayResponse {
  /** Start of civil twilight in the morning (sun at −6°); null if it does not start. */
  civil_dawn: string | null;
  /** End of civil twilight in the evening; null if it does not end. */
  civil_dusk: string | null;
  /** What the sun does on this date. */
  course: SunCourse;
  /** When they have no light. */
  dark: Array<LocalSpan>;
  /** The date. */
  date: string;
  /** When the plants have light, sun or lamps. */
  lit: Array<LocalSpan>;
  /** When stomata are expected open on this date, by pathway. */
  openings: PathwayOpenings;
  /** When the sun crosses the meridian. */
  solar_noon: string | null;
  /** Sunrise, RFC 3339 with offset; null if the sun does not rise. */
  sunrise: string | null;
  /** Sunset; null if the sun does not set. */
  sunset: string | null;
  /** The time zone. */
  time_zone: string;
}

/** A request for the ribbon of one area. */
export interface DayRibbonRequest {
  /** The area; the first of the site where not given. */
  area?: string | null;
  /** The situation; its `at` is where the ribbon begins. */
  situation: AdviceRequest;
}

/** A day of one area. */
export interface DayRibbonResponse {
  /** The air every quarter of an hour, where it is known. */
  air: Array<RibbonAir>;
  /** The ribbon in words. */
  description: Array<string>;
  /** Start, RFC 3339 with offset. */
  from: string;
  /** Plants that open alike. */
  groups: Array<RibbonGroup>;
  /** When there is light: start and end. */
  lit: Array<[string, string]>;
  /** The site and area. */
  title: string;
  /** End, 24 hours later. */
  to: string;
}

/** What a device holds: entries of its own and of the journal, and how far it has read there. */
export interface DeviceJournal {
  /** Entries that the server's journal does not take. */
  aside: Array<Aside>;
  /** How far the device has read the server's journal. */
  cursor: string;
  /** Its entries, by id. */
  held: Record<string, Held>;
  /** The order of the next entry. */
  next: number;
}

/** What a device holds: entries of its own and of the journal, and how far it has read there. */
export interface DeviceJournalOutput {
  /** Entries that the server's journal does not take. */
  aside: Array<AsideOutput>;
  /** How far the device has read the server's journal. */
  cursor: string;
  /** Its entries, by id. */
  held: Record<string, HeldOutput>;
  /** The order of the next entry. */
  next: number;
}

/** What happened to the journal of a device. */
export interface DeviceRequest {
  /** What a server answered to the entries that were sent. */
  answered?: EntriesTakenInput | null;
  /** A page of the server's journal. */
  arrived?: EntriesPageInput | null;
  /** The journal as the last answer left it; an empty one where not given. */
  device?: DeviceJournal | null;
  /** Entries set aside that are taken out, by id. */
  dropped?: Array<string>;
  /** New entries of this device, each with its `id` and `recorded`. */
  record?: Array<Draft>;
}

/** The journal of a device, and what there is to do. */
export interface DeviceResponse {
  /** What to ask `GET /v1/journal/entries` from. */
  cursor: string;
  /** The journal now. */
  device: DeviceJournalOutput;
  /** What to send to `POST /v1/journal/entries`; none where all was acknowledged. */
  send?: SendEntriesOutput | null;
  /** Entries that no server has acknowledged. */
  waiting: number;
}

/**
 * A kind of quantity.
 * - `mass`: Mass.
 * - `volume`: Volume.
 * - `length`: Length.
 * - `area`: Area.
 * - `time`: Time.
 * - `temperature`: Absolute temperature.
 * - `temperature_interval`: Temperature difference.
 * - `pressure`: Pressure.
 * - `speed`: Speed of air.
 * - `power`: Power (only as part of an irradiance).
 * - `irradiance`: Power of radiation per area.
 * - `luminous_flux`: Luminous flux (only as part of an illuminance).
 * - `illuminance`: Illuminance: light on a surface as the eye weighs it.
 * - `photon_flux_density`: Photosynthetic photon flux density (PPFD): photons of 400 to 700 nm per area and time.
 * - `amount`: Amount of substance.
 * - `charge`: Amount of charge.
 * - `conductance`: Electrical conductance (only as part of a conductivity).
 * - `conductivity`: Electrical conductivity (EC).
 * - `meter_ppm`: EC shown as ppm by a meter on a TDS scale.
 * - `ppm`: Parts per million before its meaning is known.
 * - `mass_per_volume`: Mass per volume of solution, or the bulk density of a powder.
 * - `as_basis`: Mass concentration of an analyte on a basis.
 * - `feed_strength`: Mass concentration of everything dissolved from the feed.
 * - `amount_per_volume`: Amount of substance per volume.
 * - `charge_per_volume`: Amount of charge per volume.
 * - `hardness`: Hardness: calcium and magnesium together.
 * - `alkalinity`: Alkalinity: acid taken up.
 * - `mass_fraction`: Mass per mass.
 * - `volume_fraction`: Volume per volume.
 * - `percentage`: A percentage of something not stated.
 * - `humidity`: Relative humidity.
 * - `areal_mass`: Mass per area.
 * - `injector_ratio`: Injector ratio.
 */
export type Dimension = "mass" | "volume" | "length" | "area" | "time" | "temperature" | "temperature_interval" | "pressure" | "speed" | "power" | "irradiance" | "luminous_flux" | "illuminance" | "photon_flux_density" | "amount" | "charge" | "conductance" | "conductivity" | "meter_ppm" | "ppm" | "mass_per_volume" | "as_basis" | "feed_strength" | "amount_per_volume" | "charge_per_volume" | "hardness" | "alkalinity" | "mass_fraction" | "volume_fraction" | "percentage" | "humidity" | "areal_mass" | "injector_ratio";

/** What is dissolved in the spray, as analytical totals; omitted values are zero. */
export interface Dissolved {
  /** Calcium in mmol/L. */
  ca_mmol_l?: number;
  /** Chloride in mmol/L. */
  cl_mmol_l?: number;
  /** Dissolved inorganic carbon (CO2, HCO3⁻, CO3²⁻) in mmol/L. */
  dic_mmol_l?: number;
  /** Potassium in mmol/L. */
  k_mmol_l?: number;
  /** Magnesium in mmol/L. */
  mg_mmol_l?: number;
  /** Sodium in mmol/L. */
  na_mmol_l?: number;
  /** Ammoniacal nitrogen in mmol/L. */
  nh4_mmol_l?: number;
  /** Nitrate in mmol/L. */
  no3_mmol_l?: number;
  /** Orthophosphate in mmol/L of P. */
  p_mmol_l?: number;
  /** Sulfate in mmol/L. */
  so4_mmol_l?: number;
  /** Urea in mmol/L of CO(NH2)2. */
  urea_mmol_l?: number;
}

/** A planned soak that was logged. */
export interface DoneSoak {
  /** When it was, RFC 3339. */
  at: string;
  /** The entry. */
  entry: string;
  /** Its planned start, RFC 3339. */
  planned: string;
}

/**
 * An entry to be recorded. An [`Entry`] in JSON is a valid draft too: that is how an export is
 * imported again.
 */
export interface Draft {
  /** When it happened, RFC 3339 with the offset of the grower's clock. */
  at: string;
  /** What happened. */
  event: Event;
  /**
   * An identifier of the caller's own, 1 to 64 characters. Given twice with the same content
   * the entry is recorded once, so a caller that was interrupted can simply try again. The
   * journal makes one up if it is missing.
   */
  id?: string | null;
  /** Free remarks, up to 10,000 characters. */
  note?: string;
  /** When it was recorded, RFC 3339; now if it is missing. Only imports set it. */
  recorded?: string | null;
  /** The name of the site. */
  site: string;
  /** The entry that this one corrects. The old one is kept. */
  supersedes?: string | null;
  /** IANA time zone of the place, such as `Europe/London`; must have that offset at that time. */
  zone?: string | null;
}

/**
 * An entry to be recorded. An [`Entry`] in JSON is a valid draft too: that is how an export is
 * imported again.
 */
export interface DraftOutput {
  /** When it happened, RFC 3339 with the offset of the grower's clock. */
  at: string;
  /** What happened. */
  event: EventOutput;
  /**
   * An identifier of the caller's own, 1 to 64 characters. Given twice with the same content
   * the entry is recorded once, so a caller that was interrupted can simply try again. The
   * journal makes one up if it is missing.
   */
  id?: string | null;
  /** Free remarks, up to 10,000 characters. */
  note?: string;
  /** When it was recorded, RFC 3339; now if it is missing. Only imports set it. */
  recorded?: string | null;
  /** The name of the site. */
  site: string;
  /** The entry that this one corrects. The old one is kept. */
  supersedes?: string | null;
  /** IANA time zone of the place, such as `Europe/London`; must have that offset at that time. */
  zone?: string | null;
}

/**
 * How EC is brought from one temperature to another (ISO 7888).
 * - `linear`: Linear, with the coefficient of the request or 1.9 %/K.
 * - `natural_water`: The non-linear function for natural waters, 0 to below 36 °C.
 */
export type EcCompensation = "linear" | "natural_water";

/** One element of a solution. */
export interface ElementAmount {
  /** From the products, mg/L. */
  from_products: number;
  /** From the water, mg/L. */
  from_water: number;
  /** Together, mg/L. */
  total: number;
}

/** Entries of the journal from a cursor on, in the order of recording. */
export interface EntriesPageInput {
  /** The cursor to ask from next. */
  cursor: string;
  /** The entries, corrected ones and retractions too. */
  entries: Array<EntryInput>;
  /** Whether there are more entries after this page. */
  more: boolean;
  /**
   * Whether the cursor belongs to another life of the journal, such as before a restore: the
   * page then begins with the first entry, and what is not in it and the next pages is to be
   * sent again.
   */
  restarted: boolean;
  /** The cursor that was asked from. */
  since: string;
}

/** What became of the entries that were sent. */
export interface EntriesTakenInput {
  /** One for each entry, in the order in which they were sent. */
  results: Array<Taken>;
}

/** A recorded entry. */
export interface Entry {
  /** When it happened, RFC 3339 with the offset of the grower's clock. */
  at: string;
  /** What happened. */
  event: EventOutput;
  /** The identifier. */
  id: string;
  /** Free remarks. */
  note?: string;
  /** When it was recorded, RFC 3339. */
  recorded: string;
  /** The name of the site. */
  site: string;
  /** The entry that this one corrects. */
  supersedes?: string | null;
  /** IANA time zone of the place. */
  zone?: string | null;
}

/** A recorded entry. */
export interface EntryInput {
  /** When it happened, RFC 3339 with the offset of the grower's clock. */
  at: string;
  /** What happened. */
  event: Event;
  /** The identifier. */
  id: string;
  /** Free remarks. */
  note?: string;
  /** When it was recorded, RFC 3339. */
  recorded: string;
  /** The name of the site. */
  site: string;
  /** The entry that this one corrects. */
  supersedes?: string | null;
  /** IANA time zone of the place. */
  zone?: string | null;
}

/**
 * Whether an entry is in the journal now.
 * - `accepted`: It was recorded.
 * - `known`: It was there already, word for word.
 * - `refused`: It was not recorded; the error says why.
 */
export type EntryOutcome = "accepted" | "known" | "refused";

/** The error on the wire. */
export interface Error {
  /** The kind of fault. */
  code: Code;
  /** What is wrong. */
  detail: string;
  /** What would be right. */
  hint?: string;
  /** Where in a file or text. */
  place?: ErrorPlace | null;
  /** JSON Pointer (RFC 6901) to the fault in the request; empty for the request as a whole. */
  pointer?: string;
}

/** The error on the wire. */
export interface ErrorOutput {
  /** The kind of fault. */
  code: Code;
  /** What is wrong. */
  detail: string;
  /** What would be right. */
  hint: string;
  /** Where in a file or text. */
  place?: ErrorPlace | null;
  /** JSON Pointer (RFC 6901) to the fault in the request; empty for the request as a whole. */
  pointer: string;
}

/**
 * Where in a file, a text or on a command line a fault lies. Lines and columns count from 1,
 * columns in characters.
 */
export interface ErrorPlace {
  /** The flag or argument of a command, such as `--at`. */
  argument?: string | null;
  /** The column in characters, from 1. */
  column?: number | null;
  /** The file, as it was named by the person who gave it. */
  file?: string | null;
  /** The line, from 1. */
  line?: number | null;
}

/** A distribution in brief. */
export interface Estimate {
  /** High end of the interval, g/m². */
  high_g_m2: number;
  /** Standard deviation of the natural logarithm. */
  log_sd: number;
  /** Low end of the interval, g/m². */
  low_g_m2: number;
  /** Median, g/m². */
  median_g_m2: number;
}

/** What happened. */
export type Event = {
  /** The air of that day and what the model of the film made of it. */
  conditions?: Conditions | null;
  /** Feed strength, mg/L of dissolved feed, 0 (plain water) to 10,000. */
  feed_strength_mg_l: number;
  kind: "round";
  /** Nitrogen in it, mg/L N. */
  n_mg_l?: number | null;
  /** Passes over each plant, 1 to 10. */
  passes?: number;
  /** The plants, and the volume of each where it is known. */
  plants: Array<PlantShare>;
  /** The product that was dissolved. */
  product?: string | null;
  /** The sprayer. */
  sprayer?: string | null;
  /** Volume sprayed over all plants and passes, in mL. */
  volume_ml?: number | null;
  /** The water it was dissolved in, by the grower's own name for it. */
  water?: string | null;
  /** The wetting agent that was added; `none` where the grower has given one up. */
  wetting_agent?: string | null;
  /** The window it was advised for. */
  window?: Window | null;
} | {
  /** What was dissolved in that, in mg/L. */
  drain_mg_l?: number | null;
  /** What ran out below, over all plants, in mL. */
  drain_ml?: number | null;
  /** Feed strength, mg/L of dissolved feed, 0 to 10,000. */
  feed_strength_mg_l: number;
  kind: "root_feed";
  /** Nitrogen in it, mg/L N. */
  n_mg_l?: number | null;
  /** The plants, and the volume of each where it is known. */
  plants: Array<PlantShare>;
  /** The product that was dissolved. */
  product?: string | null;
  /** Volume given over all plants, in mL. */
  volume_ml?: number | null;
} | {
  /** Conditions and modelled residue, where they are not in the entry of the round. */
  conditions?: Conditions | null;
  /** A name for plants that look alike to a looker: dark glossy leaves, the mounted wall. */
  group?: string | null;
  kind: "residue";
  /** How much was seen. */
  level: Level;
  /** What it is, where known. */
  nature?: Nature;
  /** Where. */
  place?: Place;
  /** The plants looked at; may be empty where `group` is given. */
  plants?: Array<string>;
  /** The entry of the round it followed; where not given, the last round on the same plants. */
  round?: string | null;
  /**
   * Whether the leaves had been wiped clean before the round that is looked at; taken as yes
   * where not given. White on leaves that were not is white since the last wipe, from whichever
   * round.
   */
  wiped?: boolean | null;
} | {
  /** What was dissolved in that, in mg/L. */
  drain_mg_l?: number | null;
  /** What ran out below, over all plants, in mL. */
  drain_ml?: number | null;
  kind: "flush";
  /** The plants. */
  plants: Array<string>;
  /** Water poured through over all plants, in mL. */
  volume_ml?: number | null;
} | {
  /** How long, in minutes, up to 1,440. */
  duration_min: number;
  /** Feed strength, mg/L of dissolved feed, 0 to 10,000. */
  feed_strength_mg_l: number;
  kind: "soak";
  /** The plants. */
  plants: Array<string>;
} | {
  kind: "response";
  /** The plants. */
  plants: Array<string>;
  /** What was seen. */
  sign: Sign;
} | {
  kind: "growth";
  /** What was counted or measured; required with `value`. */
  measure?: Measure | null;
  /** The file name of a photo. */
  photo?: string | null;
  /** The plants. */
  plants: Array<string>;
  /**
   * How many, or how much in the unit of the measure, on each plant. Counts are of what is new
   * since the look before; 0 says that somebody looked.
   */
  value?: number | null;
} | {
  kind: "wipe";
  /** The plants. */
  plants: Array<string>;
} | {
  /** The day it is due, `YYYY-MM-DD`. */
  due: string;
  /** Days after which it is due again once it was done; once only where absent. */
  every_days?: number | null;
  kind: "task";
  /** The plants it is about, if any. */
  plants?: Array<string>;
} | {
  kind: "done";
  /** The entry of the task. */
  task: string;
} | {
  kind: "note";
  /** The plants it is about, if any. */
  plants?: Array<string>;
} | EventKind;

/** The entry it supersedes was a mistake and stands for nothing. */
export interface EventKind {
  kind: "retraction";
}

/** What happened. */
export type EventOutput = {
  /** The air of that day and what the model of the film made of it. */
  conditions?: Conditions | null;
  /** Feed strength, mg/L of dissolved feed, 0 (plain water) to 10,000. */
  feed_strength_mg_l: number;
  kind: "round";
  /** Nitrogen in it, mg/L N. */
  n_mg_l?: number | null;
  /** Passes over each plant, 1 to 10. */
  passes: number;
  /** The plants, and the volume of each where it is known. */
  plants: Array<PlantShare>;
  /** The product that was dissolved. */
  product?: string | null;
  /** The sprayer. */
  sprayer?: string | null;
  /** Volume sprayed over all plants and passes, in mL. */
  volume_ml?: number | null;
  /** The water it was dissolved in, by the grower's own name for it. */
  water?: string | null;
  /** The wetting agent that was added; `none` where the grower has given one up. */
  wetting_agent?: string | null;
  /** The window it was advised for. */
  window?: Window2Output | null;
} | {
  /** What was dissolved in that, in mg/L. */
  drain_mg_l?: number | null;
  /** What ran out below, over all plants, in mL. */
  drain_ml?: number | null;
  /** Feed strength, mg/L of dissolved feed, 0 to 10,000. */
  feed_strength_mg_l: number;
  kind: "root_feed";
  /** Nitrogen in it, mg/L N. */
  n_mg_l?: number | null;
  /** The plants, and the volume of each where it is known. */
  plants: Array<PlantShare>;
  /** The product that was dissolved. */
  product?: string | null;
  /** Volume given over all plants, in mL. */
  volume_ml?: number | null;
} | {
  /** Conditions and modelled residue, where they are not in the entry of the round. */
  conditions?: Conditions | null;
  /** A name for plants that look alike to a looker: dark glossy leaves, the mounted wall. */
  group?: string | null;
  kind: "residue";
  /** How much was seen. */
  level: Level;
  /** What it is, where known. */
  nature: Nature;
  /** Where. */
  place: Place;
  /** The plants looked at; may be empty where `group` is given. */
  plants?: Array<string>;
  /** The entry of the round it followed; where not given, the last round on the same plants. */
  round?: string | null;
  /**
   * Whether the leaves had been wiped clean before the round that is looked at; taken as yes
   * where not given. White on leaves that were not is white since the last wipe, from whichever
   * round.
   */
  wiped?: boolean | null;
} | {
  /** What was dissolved in that, in mg/L. */
  drain_mg_l?: number | null;
  /** What ran out below, over all plants, in mL. */
  drain_ml?: number | null;
  kind: "flush";
  /** The plants. */
  plants: Array<string>;
  /** Water poured through over all plants, in mL. */
  volume_ml?: number | null;
} | {
  /** How long, in minutes, up to 1,440. */
  duration_min: number;
  /** Feed strength, mg/L of dissolved feed, 0 to 10,000. */
  feed_strength_mg_l: number;
  kind: "soak";
  /** The plants. */
  plants: Array<string>;
} | {
  kind: "response";
  /** The plants. */
  plants: Array<string>;
  /** What was seen. */
  sign: Sign;
} | {
  kind: "growth";
  /** What was counted or measured; required with `value`. */
  measure?: Measure | null;
  /** The file name of a photo. */
  photo?: string | null;
  /** The plants. */
  plants: Array<string>;
  /**
   * How many, or how much in the unit of the measure, on each plant. Counts are of what is new
   * since the look before; 0 says that somebody looked.
   */
  value?: number | null;
} | {
  kind: "wipe";
  /** The plants. */
  plants: Array<string>;
} | {
  /** The day it is due, `YYYY-MM-DD`. */
  due: string;
  /** Days after which it is due again once it was done; once only where absent. */
  every_days?: number | null;
  kind: "task";
  /** The plants it is about, if any. */
  plants?: Array<string>;
} | {
  kind: "done";
  /** The entry of the task. */
  task: string;
} | {
  kind: "note";
  /** The plants it is about, if any. */
  plants?: Array<string>;
} | EventOutputKind;

/** The entry it supersedes was a mistake and stands for nothing. */
export interface EventOutputKind {
  kind: "retraction";
}

/** How well an answer is known, and from where. */
export interface Evidence {
  /** How well the pathway is known. */
  grade: Grade;
  /** How well the leaf type is known. */
  leaf_grade: Grade;
  /** Keys of the works behind a leaf type that is reported. */
  leaf_sources: Array<string>;
  /** Keys of the works behind the pathway, as in `data/sources.csv`. */
  sources: Array<string>;
  /** The works in full, those of the pathway first. */
  works: Array<Citation>;
}

/** A report, and what it did where that was asked for. */
export interface Evidence2 {
  /** When it was seen, RFC 3339. */
  at?: string | null;
  /**
   * The day of the round it is about, `YYYY-MM-DD`. Looks of one day count as one look: they
   * share the error of its model.
   */
  day: string;
  /** The entry of the journal. */
  entry?: string | null;
  /**
   * Modelled residue of feed salts that could have been seen, g/m², 0 to 20; absent where none
   * was modelled or where what was seen is scale.
   */
  feed_g_m2?: number | null;
  /**
   * Feed strength of the round, mg/L, 0 to 10,000; absent where it is not known or where what
   * was seen is scale, which no weaker feed prevents.
   */
  feed_strength_mg_l?: number | null;
  /** The group looked at. */
  group?: string | null;
  /** What it did; absent where it was not asked for, or is too long ago. */
  influence?: Influence | null;
  /** What was seen. */
  level: Level;
  /** Log-normal uncertainty of both, 0.01 to 3; the usual one of a day when not given. */
  residue_log_sd?: number | null;
  /** The round it is about. */
  round?: string | null;
  /** Modelled carbonate scale that could have been seen, g/m², 0 to 20. */
  scale_g_m2?: number | null;
}

/** The rule of thumb by leaf, for a plant whose name does not settle the question. */
export interface Fallback {
  /** Always `inferred`, or `unknown` without a leaf. */
  grade: Grade;
  /** The share of measured blades for which the rule is right, from 0 to 1. */
  hit_rate: number | null;
  /** The leaf it was applied to, where one is known. */
  leaf: Leaf | null;
  /** Species with both leaf thickness and pathway measured. */
  measured_species: number;
  /** The rule in words, with its limits. */
  message: string;
  /** What it suggests of the opening; `unknown` without a leaf. */
  opens: Opens;
  /** What it suggests of the pathway; `unknown` without a leaf. */
  pathway: Pathway;
  /** The whole rule. */
  rule: Array<LeafSuggestion>;
  /** Keys of the works the share was counted from. */
  sources: Array<string>;
}

/** A feed that is given in turn with others. */
export interface FeedDescription {
  /**
   * The months in which it is given, 1 to 12; all of them when empty. Out of its months its turns
   * are passed over.
   */
  months?: Array<number>;
  /** The name that the rota calls it by. `water` is plain water and no name of a feed. */
  name: string;
  /** The product by its label: its name or a part of it; the name of the feed when not given. */
  product?: string | null;
  /** Supplements that go into the bucket with it. Feed strength counts them. */
  with?: Array<SupplementDescription>;
}

/** One fill of the mister. */
export interface Fill {
  /** Feed to take from the bucket, mL. */
  feed_ml: number;
  /** The feed strength that this gives after rounding to the marks, mg/L. */
  feed_strength_mg_l: number;
  /** How full the mister is after the feed went in, in eighths. */
  feed_to_eighths: number;
  /** How full it is after the top-up, in eighths. */
  full_to_eighths: number;
  /** What is still in the mister from the fill before, mL. */
  left_in_mister_ml: number;
  /** What to pour out first, because the rest is stronger than this step needs, mL. */
  pour_out_ml: number;
  /** What is sprayed from this fill, mL. */
  spray_ml: number;
  /** Water to top up with, mL. */
  top_up_ml: number;
}

/** The film at one moment. */
export interface FilmMoment {
  /** Everything dissolved in g/L. */
  concentration_g_l: number;
  /** Leaf temperature in °C. */
  leaf_temp_c: number;
  /** Minutes since the film was laid. */
  minutes: number;
  /** Solid feed salts with their water of crystallisation, in g/m². */
  solids_g_m2: number;
  /** Liquid water in g/m². */
  water_g_m2: number;
}

/** What to know before relying on an answer. */
export interface FilmNotice {
  /** The kind. */
  code: FilmNoticeCode;
  /** In a sentence. */
  message: string;
}

/**
 * The kinds of notices.
 * - `charge-imbalance`: Cations and anions of the composition do not cancel.
 */
export type FilmNoticeCode = "charge-imbalance";

/**
 * A film to dry. Defaults: sea-level pressure, light air, a 5 cm leaf wet on one side, no net
 * radiation, 100 g/m², pure water, one pass, the shipped threshold.
 */
export interface FilmRequest {
  /** Air speed at the leaf in m/s. */
  air_m_s?: number | null;
  /** A word for the air movement, instead of the speed. */
  air_words?: AirWord | null;
  /** What is dissolved in the spray, feed and water together. */
  composition?: Dissolved;
  /** Include the time course. */
  course?: boolean;
  /**
   * Relative humidity in % of the driest air the leaf sees before the next spraying; by default
   * that of the drying.
   */
  driest_rh_percent?: number | null;
  /** Leaf dimension along the air flow in cm. */
  leaf_cm?: number | null;
  /** Film load after run-off per wet side in g/m². */
  load_g_m2?: number | null;
  /** Net radiation absorbed by the leaf in W/m². */
  net_radiation_w_m2?: number | null;
  /** Passes of the feed, each laid when the one before has dried. */
  passes?: number | null;
  /** A last pass of pure water. */
  plain_water_pass?: boolean;
  /** Air pressure in kPa. */
  pressure_kpa?: number | null;
  /** Relative humidity in %. */
  rh_percent: number;
  /** The leaf is too stiff to flutter in wind; a fluttering leaf dries up to 1.4 times faster. */
  stiff_leaf?: boolean;
  /** Air temperature in °C. */
  temp_c: number;
  /** This grower's residue threshold in g/m² instead of the shipped one. */
  threshold_g_m2?: number | null;
  /** Sides of the leaf that are wet. */
  wet_sides?: WetSides;
  /** A wetting agent is in the spray. */
  wetting_agent?: boolean;
}

/** How one film dries and what it leaves. */
export interface FilmResponse {
  /** The burn limit in g/L. */
  burn_limit_g_l: number;
  /** The root tip is at risk. */
  burn_risk: boolean;
  /**
   * Charge of the composition that could not be closed and was omitted, in % of all charges;
   * positive for an excess of cations.
   */
  charge_imbalance_percent: number;
  /** The time course, if asked for. */
  course?: Array<FilmMoment>;
  /** Humidity below which nothing liquid is left, in %; 0 if the mix does not dry in any room. */
  dry_below_percent: number;
  /**
   * Minutes until the leaf is dry to the touch (1 % of the water or 1 g/m² is left, whichever is
   * less; no water for pure water); null if it stays wet.
   */
  dry_minutes: number | null;
  /** Of which feed salts. */
  feed_residue_g_m2: number;
  /** The soluble salt that forms first as the film dries. */
  first_solid: string | null;
  /** Lowest temperature of the leaf in °C. */
  leaf_temp_c: number;
  /** Liquid water left at equilibrium with the air, in g/m². */
  liquid_left_g_m2: number;
  /** What to know before relying on the answer. */
  notices?: Array<FilmNotice>;
  /** Highest concentration of everything dissolved that the film passes through, in g/L. */
  peak_concentration_g_l: number;
  /** Solids left, feed salts and scale together, in g/m² of a wet side. */
  residue_g_m2: number;
  /** About 1 chance in 10 that more is left. */
  residue_high_g_m2: number;
  /** About 1 chance in 10 that less is left. */
  residue_low_g_m2: number;
  /** Probability that the grower sees it, 0 to 1. */
  residue_probability: number;
  /** Minutes that drop is above the burn limit; null if it stays so. */
  root_drop_minutes_above_limit: number | null;
  /** Highest concentration of a drop that hangs at a root tip, in g/L. */
  root_drop_peak_g_l: number;
  /** Carbonate scale of the water, in mg/L of the spray. */
  scale_mg_l: number;
  /** Of which carbonate scale of the water. */
  scale_residue_g_m2: number;
  /** What is on the leaf in the end: `wet` (all salts dissolved), `partly-solid`, `dry`. */
  state: FilmState;
  /** Humidity at and above which every feed salt stays dissolved, in %. */
  stays_wet_above_percent: number;
  /** Feed strength with what the water brings, in mg/L (scale formers as carbonates). */
  strength_mg_l: number;
  /** What the leaf takes up of the feed in g/m², uncertain by a factor of about 3. */
  taken_up_g_m2: number;
}

/**
 * What is on the leaf at a humidity.
 * - `wet`: All feed salts are dissolved.
 * - `partly-solid`: Solids beside a solution that does not dry.
 * - `dry`: Solids alone (or nothing, for pure water).
 */
export type FilmState = "wet" | "partly-solid" | "dry";

/**
 * Whether the feed strength is right.
 * - `right`: The usual strength is the one proposed, or so near that a change is not worth it.
 * - `too-strong`: Less is proposed.
 * - `room-for-more`: More is proposed.
 * - `not-known`: No round is recent enough, or nobody has looked.
 */
export type Finding = "right" | "too-strong" | "room-for-more" | "not-known";

/**
 * Whether the product is poured as a powder or as a liquid.
 * - `powder`: Powder, crystals or granules that dissolve.
 * - `liquid`: A liquid concentrate.
 */
export type Form = "powder" | "liquid";

/** Asks when a plant opens its stomata. */
export interface GenusRequest {
  /** The leaf of the plant, used if its name does not settle the question. */
  leaf?: Leaf | null;
  /**
   * The name of the plant as on its label: a genus, species, hybrid genus, old name or
   * abbreviation, with or without epithet and cultivar.
   */
  query: string;
}

/** When a plant opens its stomata, how sure that is, and who measured it. */
export interface GenusResponse {
  /** How many of the measured species of the genus show CAM. */
  cam_fraction: CamFraction | null;
  /**
   * What the name may mean, likeliest first; beside a misspelt name that was found, what else
   * it may have meant.
   */
  candidates: Array<TaxonBrief>;
  /** How likely each pathway is, where the rule has something to go by. */
  chance: PathwayChance | null;
  /** For a name that is not spelt as in the tables: the name it was read as. */
  corrected_to: string | null;
  /** Measured δ¹³C. */
  d13c_permil: D13cPermil | null;
  /** How well this is known, and from where. */
  evidence: Evidence;
  /** The rule by leaf, where the name does not settle the question. */
  fallback: Fallback | null;
  /** Where it grows. */
  habit: Habit;
  /** The type of leaf. */
  leaf: Leaf;
  /** Measured leaf thickness. */
  leaf_mm: LeafMm | null;
  /** Whether it has no leaf blade, so that roots or stems take up the feed. */
  leafless: boolean;
  /** The answer in plain words. */
  message: string;
  /** The accepted name, where it was. */
  name: string | null;
  /** Remarks of the tables and on how the answer was reached. */
  notes: Array<string>;
  /**
   * When its leaf stomata are expected open. `unknown` for a leafless plant, which has no leaf
   * opening.
   */
  opens: Opens;
  /** The time of day of the widest opening, where it was measured. */
  opens_peak: PeakTime | null;
  /** Whether the name was understood. */
  outcome: Outcome;
  /** The parents of a hybrid. */
  parents: Array<TaxonBrief>;
  /** How it fixes carbon. */
  pathway: Pathway;
  /** The query as given. */
  query: string;
  /** What kind of taxon it is. */
  rank: Rank;
  /** Published records of the species. */
  records: Array<ObservationOutput>;
  /** Stomata counted on the sides of its leaves, of a species. */
  stomata: Array<StomataCount>;
  /** Subfamily, of a genus or species. */
  subfamily: string | null;
  /** Subtribe, where placed. */
  subtribe: string | null;
  /** Tribe, where placed. */
  tribe: string | null;
  /** The other name that led here. */
  via: Via | null;
}

/** A sitting of a plan and what was done differently. */
export interface GivenRequest {
  /** When it was done, RFC 3339 with offset; the start of the sitting where not given. */
  at?: string | null;
  /** An identifier of the caller's own, 1 to 48 characters; each entry has it with its number. */
  id: string;
  /** Plants that were not sprayed. */
  left_out?: Array<string>;
  /** Free remarks, up to 10,000 characters, for each entry. */
  note?: string;
  /** The plan of the round. */
  plan: RoundResponseInput;
  /** When it is recorded, RFC 3339. */
  recorded: string;
  /** The sitting that was done, counted from 0. */
  sitting?: number;
  /** Steps that were done differently. */
  steps?: Array<GivenStep>;
  /** IANA time zone of the place; left out of an entry whose time has another offset. */
  zone?: string | null;
}

/** The entries of a sitting that was done. */
export interface GivenRounds {
  /** One for each strength and air, checked, to be recorded. */
  entries: Array<Entry>;
}

/** A step of a sitting that was done differently. */
export interface GivenStep {
  /** The feed strength that was given, mg/L of dissolved feed; as planned where not given. */
  feed_strength_mg_l?: number | null;
  /** The step, counted from 0. */
  step: number;
  /** The volume that was sprayed, mL, shared as planned; as planned where not given. */
  volume_ml?: number | null;
}

/**
 * How well a trait is known, from least to best.
 * - `unknown`: Nothing is known.
 * - `inferred`: Concluded from relatives, parents or anatomy.
 * - `reported`: A publication classifies the taxon.
 * - `measured`: An isotope ratio, acidity or gas exchange of that taxon was measured.
 */
export type Grade = "unknown" | "inferred" | "reported" | "measured";

/** What the journal proposes for some plants. */
export interface GroupStrength {
  /** The strength that left white, mg/L, where that is why. */
  next_strength_after_white_at_mg_l?: number | null;
  /** The highest strength for the next round, mg/L; what practice gives where absent. */
  next_strength_mg_l?: number | null;
  /** The plants, by id. Ids that are not in the collection do no harm. */
  plants: Array<string>;
}

/** What the grower has to work with and is willing to accept. */
export interface GrowerSettings {
  /** The product that is fed where several labels are given: its name or a part of it. */
  feed?: string | null;
  /**
   * Whether the grower logs white only, so that a round without a look was probably clean. The
   * journal counts such rounds as half a clean look.
   */
  logs_only_white?: boolean;
  /** Minutes to measure and mix one fill of the mister; that of the practice table when not given. */
  minutes_per_fill?: number | null;
  /** What a full mister holds, in millilitres. */
  mister_ml?: number | null;
  /** The strength that left white, mg/L, where that is why the journal proposes no more. */
  next_strength_after_white_at_mg_l?: number | null;
  /** The highest strength that the journal proposes for the next round, mg/L: no plant gets more. */
  next_strength_mg_l?: number | null;
  /**
   * What the journal proposes for plants that are looked at as a group of their own, instead
   * of the strength above.
   */
  next_strengths?: Array<GroupStrength>;
  /** The grower's own residue threshold, in g/m², where it has been learned. */
  residue_threshold_g_m2?: number | null;
  /**
   * The standard deviation of its natural logarithm; that of the shipped threshold when not
   * given.
   */
  residue_threshold_log_sd?: number | null;
  /** How many looks at dry leaves it was learned from. */
  residue_threshold_looks?: number | null;
  /**
   * The turns in their order, each the name of a feed, or `water` for plain water. After the last
   * comes the first again. The feeds in their order when empty.
   */
  rota?: Array<string>;
  /** The smallest mass the grower's scale shows, in grams. */
  scale_g?: number | null;
  /** Seconds to find and spray one plant once; that of the practice table when not given. */
  seconds_per_plant?: number | null;
  /** The probability of visible residue the grower accepts, 0.01 to 0.5. */
  tolerance?: number | null;
  /**
   * The water that feeds are mixed with where several reports are given: its name or a part of
   * it.
   */
  water?: string | null;
  /** When the grower can be with the plants, local time; empty means at any hour. */
  working_hours?: Array<WorkingHours>;
}

/**
 * Whether a plant grows.
 * - `active`: New leaves, growths or root tips are moving.
 * - `resting`: At rest.
 * - `unknown`: Not looked at.
 */
export type Growth = "active" | "resting" | "unknown";

/** What was counted and measured on one plant in one month. */
export interface GrowthMonth {
  /** Flowers that opened. */
  flowers: number;
  /** The length of the longest leaf as last measured, mm. */
  leaf_length_mm?: number | null;
  /** Leaves that were lost. */
  lost_leaves: number;
  /** The month, such as `2026-06`. */
  month: string;
  /** New leaves. */
  new_leaves: number;
  /** New pseudobulbs or growths. */
  new_pseudobulbs: number;
  /** New roots. */
  new_roots: number;
  /** The weight as last measured, g. */
  weight_g?: number | null;
}

/**
 * The guaranteed analysis, in percent. Each nutrient may be given as the oxide or as the
 * element, and the field name says which; where both are given they must agree.
 */
export interface Guaranteed {
  /** Ammoniacal nitrogen, % N. */
  ammoniacal_n_percent?: number | string | null;
  /** Boron, % B. */
  b_percent?: number | string | null;
  /** Calcium, % Ca. */
  ca_percent?: number | string | null;
  /** Calcium oxide, % CaO. */
  cao_percent?: number | string | null;
  /** Chloride, % Cl. */
  cl_percent?: number | string | null;
  /** Cobalt, % Co. */
  co_percent?: number | string | null;
  /** Copper, % Cu. */
  cu_percent?: number | string | null;
  /** Iron, % Fe. */
  fe_percent?: number | string | null;
  /** Soluble potash, % K2O. */
  k2o_percent?: number | string | null;
  /** Potassium on the elemental basis, % K. */
  k_percent?: number | string | null;
  /** Magnesium, % Mg. */
  mg_percent?: number | string | null;
  /** Magnesium oxide, % MgO. */
  mgo_percent?: number | string | null;
  /** Manganese, % Mn. */
  mn_percent?: number | string | null;
  /** Molybdenum, % Mo. */
  mo_percent?: number | string | null;
  /** Total nitrogen, % N. May be omitted if all its forms are given. */
  n_percent?: number | string | null;
  /** Sodium oxide, % Na2O. */
  na2o_percent?: number | string | null;
  /** Sodium, % Na. */
  na_percent?: number | string | null;
  /** Nitrate nitrogen, % N. */
  nitrate_n_percent?: number | string | null;
  /** Nitrogen in other forms (organic, amino acids, other water-soluble), % N. */
  other_n_percent?: number | string | null;
  /** Available phosphate, % P2O5. */
  p2o5_percent?: number | string | null;
  /** Phosphorus on the elemental basis, % P. */
  p_percent?: number | string | null;
  /** Sulfur, % S. */
  s_percent?: number | string | null;
  /** Silicon, % Si. */
  si_percent?: number | string | null;
  /** Silicon dioxide, % SiO2. */
  sio2_percent?: number | string | null;
  /** Sulfur trioxide, % SO3. */
  so3_percent?: number | string | null;
  /** Urea (ureic) nitrogen, % N. */
  urea_n_percent?: number | string | null;
  /** Zinc, % Zn. */
  zn_percent?: number | string | null;
}

/**
 * The rule after white: at most half of the strength that left it, and up again in steps after
 * clean looks.
 */
export interface Guard {
  /** The strength it allows, mg/L. */
  ceiling_mg_l: number;
  /** Clean looks since it last changed; half of one for a round that is counted as clean. */
  clean_looks: number;
  /** Clean looks after which it goes up by a step. */
  clean_looks_needed: number;
  /** The strength that left it, mg/L. */
  white_at_mg_l: number;
  /** The day of the last white that lowered it, `YYYY-MM-DD`. */
  white_on: string;
}

/**
 * Where the plants of a genus grow.
 * - `epiphyte`: On trees.
 * - `lithophyte`: On rock.
 * - `terrestrial`: In soil.
 * - `mycoheterotroph`: Without leaf green, fed by a fungus.
 * - `mixed`: More than one of these.
 * - `unknown`: Not known.
 */
export type Habit = "epiphyte" | "lithophyte" | "terrestrial" | "mycoheterotroph" | "mixed" | "unknown";

/** How much feed fits under the ceiling. */
export interface Headroom {
  /** The ceiling asked for, µS/cm at 25 °C. */
  ceiling_ec25_us_cm: number;
  /** The ceiling less the water's own, µS/cm at 25 °C; negative where the water alone is over. */
  ec25_us_cm: number;
  /** The feed strength that reaches the ceiling in this water, mg/L, where a label was given. */
  feed_strength_mg_l?: Bounds | null;
  /** The nitrogen at that feed strength, mg/L as N. */
  n_mg_l?: Bounds | null;
}

/** How much feed fits under a ceiling of EC. */
export interface HeadroomRequest {
  /** The highest specific conductance (25 °C) of water and feed together, µS/cm. */
  ceiling_ec25_us_cm: number;
  /** The product, so that the headroom can be stated as feed strength too. */
  label?: Label | null;
}

/** An entry on a device. */
export interface Held {
  /** The entry. */
  entry: EntryInput;
  /** The order in which the device got its entries; a correction comes after what it corrects. */
  order: number;
  /** How far it is on its way. */
  state: HeldState;
}

/** An entry on a device. */
export interface HeldOutput {
  /** The entry. */
  entry: Entry;
  /** The order in which the device got its entries; a correction comes after what it corrects. */
  order: number;
  /** How far it is on its way. */
  state: HeldState;
}

/**
 * How far an entry is on its way.
 * - `waiting`: Only this device has it for certain.
 * - `acknowledged`: The journal has acknowledged it; it has not come back in a page yet.
 * - `shared`: It came from the journal.
 */
export type HeldState = "waiting" | "acknowledged" | "shared";

/** The air of one hour. */
export interface HourOfAir {
  /** When the hour starts, RFC 3339 with offset. */
  start: string;
  /** Air temperature in °C. */
  temp_c: number;
  /** Vapour pressure deficit in kPa. */
  vpd_kpa: number;
}

/** What one report did to the threshold. */
export interface Influence {
  /** The probability that the model of its day was far out. */
  odd_day: number;
  /** How far the median of now is moved because of it: with it over without it, less 1, in %. */
  pull_percent: number;
}

/** Totals in mg/L, each weighed as its field says; omitted values are zero. */
export interface IonsMgL {
  /** Calcium, as Ca. */
  ca?: number;
  /** Chloride, as Cl. */
  cl?: number;
  /** Total inorganic carbon, as C. */
  dic?: number;
  /** Potassium, as K. */
  k?: number;
  /** Magnesium, as Mg. */
  mg?: number;
  /** Sodium, as Na. */
  na?: number;
  /** Ammoniacal nitrogen, as NH4. */
  nh4?: number;
  /** Nitrate, as NO3. */
  no3?: number;
  /** Total phosphate, as P. */
  p?: number;
  /** Sulfate, as SO4. */
  so4?: number;
  /** Urea, as CO(NH2)2. */
  urea?: number;
}

/** Totals in mmol/L; omitted values are zero. */
export interface IonsMmolL {
  /** Calcium. */
  ca?: number;
  /** Chloride. */
  cl?: number;
  /** Total inorganic carbon, CO2, HCO3 and CO3. */
  dic?: number;
  /** Potassium. */
  k?: number;
  /** Magnesium. */
  mg?: number;
  /** Sodium. */
  na?: number;
  /** Ammoniacal nitrogen, NH4 and NH3. */
  nh4?: number;
  /** Nitrate. */
  no3?: number;
  /** Total phosphate, H3PO4 to PO4. */
  p?: number;
  /** Sulfate. */
  so4?: number;
  /** Urea. */
  urea?: number;
}

/** One guideline for irrigation water. */
export interface IrrigationClass {
  /** What the guideline is about. */
  hazard: IrrigationHazard;
  /** The degree of restriction on use. */
  restriction: Restriction;
  /** Keys of the works it rests on. */
  sources: Array<string>;
  /** The unit as a UCUM code. */
  unit: string;
  /** The figure that is compared, in `unit`. */
  value: number;
}

/**
 * What can be wrong with irrigation water.
 * - `salinity`: Salinity, by the specific conductance.
 * - `infiltration`: Infiltration into soil, by the specific conductance at the sodium adsorption ratio.
 * - `sodium_by_roots`: Sodium taken up by roots, by the sodium adsorption ratio.
 * - `sodium_by_leaves`: Sodium taken up by wetted leaves.
 * - `chloride_by_roots`: Chloride taken up by roots.
 * - `chloride_by_leaves`: Chloride taken up by wetted leaves.
 * - `nitrate`: Nitrate nitrogen.
 * - `hydrogencarbonate_on_leaves`: Hydrogencarbonate, which leaves deposits on wetted leaves.
 * - `ph`: pH outside the normal range.
 */
export type IrrigationHazard = "salinity" | "infiltration" | "sodium_by_roots" | "sodium_by_leaves" | "chloride_by_roots" | "chloride_by_leaves" | "nitrate" | "hydrogencarbonate_on_leaves" | "ph";

/** The label of one product. */
export interface Label {
  /**
   * Mass of one litre of the loose powder, kg/L (0.2–2), needed for spoons: weigh a level
   * spoonful and divide its grams by its millilitres.
   */
  bulk_density_kg_l?: number | string | null;
  /** Density of a liquid, kg/L (0.8–2). */
  density_kg_l?: number | string | null;
  /** The materials after "derived from", one each. */
  derived_from?: Array<string>;
  /** Whether the label allows use on leaves; omitted if it says nothing. */
  foliar?: boolean | null;
  /** Powder or liquid. */
  form?: Form;
  /** Whether the form was assumed, because the text of the label does not state it. */
  form_assumed?: boolean;
  /** The guaranteed analysis. */
  guaranteed: Guaranteed;
  /** The name on the label. */
  name: string;
  /** Whether percentages are of mass or, for a liquid, of volume. */
  percent_of?: PercentOf;
  /** Notes on keeping the product (moisture, age, frost), shown with its recipes. */
  shelf?: string | null;
  /**
   * How much of the product dissolves and stays dissolved as solids, in percent of what
   * `percent_of` names. If omitted: 100 for a powder; for a liquid the sum of the ions and urea
   * its analysis accounts for.
   */
  soluble_percent?: number | string | null;
  /**
   * Supplements that always go into the bucket with it, each in proportion; feed strength counts
   * them.
   */
  with?: Array<Supplement>;
}

/** Lamps that are on and off in turn, whatever the clock says. */
export interface LampCycle {
  /** Length of the dark in hours. */
  dark_h: number;
  /** Length of the light in hours. */
  light_h: number;
  /** When one of the light periods begins, RFC 3339 with offset. */
  start: string;
}

/** One run of the lamps each day; `off` earlier than `on` runs over midnight. */
export interface LampRun {
  /** When they go off, local time, `HH:MM`; `24:00` is the end of the day. */
  off: string;
  /** When the lamps go on, local time, `HH:MM`. */
  on: string;
}

/**
 * The type of leaf. The thickness classes are those of the blade: thin below 0.5 mm,
 * intermediate 0.5–1.0 mm, thick above 1.0 mm.
 * - `thin`: A blade thinner than 0.5 mm.
 * - `intermediate`: A blade of 0.5 to 1.0 mm.
 * - `thick`: A blade thicker than 1.0 mm.
 * - `terete`: A leaf round in section, like a pencil.
 * - `leafless`: No leaf, or scales only: green roots or stems do the work.
 * - `variable`: The species of the genus, or the parents of the hybrid, differ.
 * - `unknown`: Not known.
 */
export type Leaf = "thin" | "intermediate" | "thick" | "terete" | "leafless" | "variable" | "unknown";

/** Measured leaf thickness. */
export interface LeafMm {
  /** The thickest, in mm. */
  high: number;
  /** The thinnest, in mm. */
  low: number;
  /** How many were measured, 0 where not stated. */
  n: number;
}

/** What one type of leaf suggests. */
export interface LeafSuggestion {
  /** How the measured species with such a leaf turned out. */
  cam_fraction: CamFraction | null;
  /** The type of leaf. */
  leaf: Leaf;
  /** What it suggests of the opening. */
  opens: Opens;
  /** What it suggests of the pathway. */
  pathway: Pathway;
}

/** What each plant got and what is due. */
export interface Ledger {
  /** What was taken for granted. */
  assumed: Array<ReasonOutput>;
  /** The moment it was drawn up for, RFC 3339. */
  at: string;
  /** The first day. */
  from: string;
  /** The plants: those of the request in its order, then others of the journal by name. */
  plants: Array<PlantLedger>;
}

/** A request for the ledger. */
export interface LedgerRequest {
  /** The moment it is drawn up for, RFC 3339 with offset; later entries are omitted. */
  at: string;
  /** What was done and seen, in any order; at most 100,000. */
  entries: Array<EntryInput>;
  /** The first day, `YYYY-MM-DD`; that of the first entry when not given. */
  from?: string | null;
  /**
   * The plants of the collection. A plant that is only in the journal is listed too, without
   * what its setting and standing would tell.
   */
  plants?: Array<PlantEntry>;
}

/**
 * How much residue was seen.
 * - `none`: Looked for and not seen.
 * - `faint`: Seen only in slanting light or when looked for.
 * - `clear`: Seen at once.
 * - `heavy`: A crust or white all over.
 */
export type Level = "none" | "faint" | "clear" | "heavy";

/**
 * Where the light of the plants comes from.
 * - `sun`: The sun.
 * - `lamps`: Lamps alone.
 * - `sun_and_lamps`: The sun, lengthened by lamps.
 */
export type LightKind = "sun" | "lamps" | "sun_and_lamps";

/**
 * A kind of light whose spectrum is known well enough to convert lux to PPFD.
 *
 * White LEDs are not among them: their ratio runs over a wide range with colour temperature and
 * phosphor, so use the figure of the maker or a quantum meter.
 * - `sunlight`: Sun and sky together, also through clear glass.
 * - `blue_sky`: Blue sky without the sun.
 * - `high_pressure_sodium`: High-pressure sodium lamp.
 * - `metal_halide`: Metal halide lamp.
 * - `cool_white_fluorescent`: Cool white fluorescent lamp.
 * - `incandescent`: Incandescent lamp.
 */
export type LightSource = "sunlight" | "blue_sky" | "high_pressure_sodium" | "metal_halide" | "cool_white_fluorescent" | "incandescent";

/** A span of local time. */
export interface LocalSpan {
  /** When it ends. */
  end: string;
  /** When it starts, RFC 3339 with offset. */
  start: string;
}

/** A request for looks. */
export interface LookWanted {
  /** Have a clean look. */
  clean_looks: number;
  /** Of the last days with a round, so many. */
  of_rounds: number;
  /** Should have one. */
  wanted: number;
}

/**
 * What kind of name a match is, in the order in which matches are listed.
 * - `genus`: An accepted genus.
 * - `species`: A species with records.
 * - `nothogenus`: A hybrid genus.
 * - `cross`: A cross of two genera written out.
 * - `synonym`: A generic name now included in another genus, or divided among several.
 * - `abbreviation`: An abbreviation of a genus.
 * - `spelling`: A common misspelling or variant spelling.
 * - `common name`: A common name of the trade.
 */
export type MatchKind = "genus" | "species" | "nothogenus" | "cross" | "synonym" | "abbreviation" | "spelling" | "common name";

/**
 * What is counted or measured on a plant.
 * - `new_root`: New roots since the look before.
 * - `new_leaf`: New leaves.
 * - `new_pseudobulb`: New pseudobulbs or growths.
 * - `flower`: Flowers that opened.
 * - `lost_leaf`: Leaves that were lost.
 * - `leaf_length_mm`: The length of the longest leaf, mm.
 * - `weight_g`: The weight, g.
 */
export type Measure = "new_root" | "new_leaf" | "new_pseudobulb" | "flower" | "lost_leaf" | "leaf_length_mm" | "weight_g";

/** A specific conductance as the three ppm scales show it. */
export interface MeterPpm {
  /** The 500 scale (factor 0.5). */
  scale_500: Bounds;
  /** The 640 scale (factor 0.64). */
  scale_640: Bounds;
  /** The 700 scale (factor 0.7). */
  scale_700: Bounds;
}

/** What a meter showed. */
export type MeterReading = MeterReadingEcUsCm | MeterReadingPpm500 | MeterReadingPpm640 | MeterReadingPpm700;

/** Conductivity, µS/cm. */
export interface MeterReadingEcUsCm {
  ec_us_cm: number;
}

/** ppm on the 500 scale. */
export interface MeterReadingPpm500 {
  ppm500: number;
}

/** ppm on the 640 scale. */
export interface MeterReadingPpm640 {
  ppm640: number;
}

/** ppm on the 700 scale. */
export interface MeterReadingPpm700 {
  ppm700: number;
}

/** A question to a meter reading. */
export interface MeterRequest {
  /** How far the meter may be off, percent; the parameter `meter_accuracy` if omitted. */
  accuracy_percent?: number | null;
  /** The product that was dissolved. */
  label: Label;
  /** What the meter showed. */
  reading: MeterReading;
  /**
   * The temperature of the solution, °C, for a meter without temperature compensation; if
   * omitted, the reading refers to 25 °C.
   */
  uncompensated_at_c?: number | null;
  /** The water it was dissolved in; pure water if omitted. */
  water?: WaterReport | null;
}

/** What a reading says of the feed. */
export interface MeterResponse {
  /** The reading as specific conductance, µS/cm at 25 °C. */
  ec25_us_cm: number;
  /** Feed strength, mg/L. */
  feed_strength_mg_l: Bounds;
  /** Total N from the feed, mg/L (ppm N), urea included. */
  n_mg_l: Bounds;
  /** Of that, the urea N, which the meter does not see: it follows from the label alone. */
  urea_n_mg_l: Bounds;
  /** What a reader should know. */
  warnings: Array<Notice>;
  /** The water's own part of it, µS/cm at 25 °C. */
  water_ec25_us_cm: number;
}

/** What a film leaves and the air that decides it; what a journal keeps to learn from. */
export interface ModelledResidue {
  /** Air speed at the driest hour, m/s; none where it is not known. */
  air_m_s?: number | null;
  /** Feed salts left, g/m² of wet leaf surface. */
  feed_g_m2: number;
  /**
   * How far the feed salts vary between days that read the same: the standard deviation of their
   * natural logarithm; none where none are left.
   */
  feed_log_sd?: number | null;
  /** Relative humidity at the driest hour, %. */
  rh_percent: number;
  /** Carbonate scale from the water, g/m². */
  scale_g_m2: number;
  /** Air temperature at the driest hour, °C. */
  temp_c: number;
}

/**
 * How well it is known what a name stands for, from least to best.
 * - `from memory`: Entered from memory, not yet checked against a work.
 * - `reported`: Reported by the works cited.
 */
export type NameEvidence = "from memory" | "reported";

/**
 * What kind of name a [`NameRecord`] is.
 * - `synonym`: A generic name now included in another genus, or divided among several.
 * - `nothogenus`: A hybrid genus.
 * - `spelling`: A common misspelling or variant spelling.
 * - `abbreviation`: An abbreviation of a genus.
 * - `common name`: A common name of the trade.
 */
export type NameKind = "synonym" | "nothogenus" | "spelling" | "abbreviation" | "common name";

/**
 * What the residue is.
 * - `feed`: Feed salts: wiped off with plain water.
 * - `scale`: Carbonate scale: stays when wiped with plain water.
 * - `unknown`: Not known.
 */
export type Nature = "feed" | "scale" | "unknown";

/** The next feed strength: what the reports allow, and what is proposed. */
export interface NextStrength {
  /**
   * The highest strength on the usual days whose probability of visible residue is within the
   * tolerance, mg/L, at most the cap. Absent where even the least useful one is too likely to
   * be seen, or where there are no usual days.
   */
  allowed_mg_l?: number | null;
  /** The strength that the plants may get at most, mg/L. */
  cap_mg_l: number;
  /** The rule after white, while it holds the strength below the cap. */
  guard?: Guard | null;
  /** Asks for looks where the last rounds have too few clean ones. */
  look_wanted?: LookWanted | null;
  /**
   * Probability of visible residue at the proposed strength; with plain water where none is
   * proposed; absent without usual days.
   */
  probability?: number | null;
  /** Probability of visible residue at the present strength, where that was asked for. */
  probability_at_present?: number | null;
  /** Probability of visible residue at the least useful strength; absent without usual days. */
  probability_least_useful?: number | null;
  /** Probability of visible residue with water alone; absent without usual days. */
  probability_without_feed?: number | null;
  /**
   * The strength to give next, mg/L: what the reports allow, or less where white was seen.
   * Absent where plain water is proposed.
   */
  proposed_mg_l?: number | null;
  /** What decides the proposal. */
  reason: StrengthReason;
  /** The probability that is accepted. */
  tolerance: number;
  /** Usual days it was judged on. */
  usual_days: number;
}

/** What the next strength is asked for. */
export interface NextStrengthRequest {
  /**
   * The strength that the plants may get at most, mg/L, 25 to 10,000; that of an established
   * plant when not given.
   */
  cap_mg_l?: number | null;
  /** A strength whose own probability is asked for as well, mg/L, 0 to 10,000: the present one. */
  present_mg_l?: number | null;
  /** Probability of visible residue that is accepted, 0.01 to 0.5; 0.1 when not given. */
  tolerance?: number | null;
  /**
   * The usual days: one for each of the last rounds, at most 100. Without any the reports
   * cannot say what they allow.
   */
  usual_days?: Array<UsualDay>;
}

/** The forms of nitrogen, mg/L as N. */
export interface NitrogenForms {
  /** Ammoniacal N. */
  ammoniacal: number;
  /** Nitrate N. */
  nitrate: number;
  /** N whose form the label does not state. */
  other: number;
  /** Urea N, which no conductivity meter sees. */
  urea: number;
}

/** An entry that told nothing about the threshold. */
export interface NotUsed {
  /** The entry. */
  entry: string;
  /** Why. */
  why: string;
}

/** Something the reader of an answer should know: a warning, an assumption, a caution. */
export interface Notice {
  /** What it is about, such as `urea-invisible`. */
  code: NoticeCode;
  /** The sentence for a reader. */
  message: string;
  /** Keys of the works it rests on (`data/sources.csv`); empty for common practice. */
  sources?: Array<string>;
}

/** What a [`Notice`] is about. Stable for programs; kebab-case on the wire. */
export type NoticeCode = "above-validity" | "acid-into-water" | "below-the-scale" | "beyond-validity" | "calcium-apart" | "calcium-in-one-bag" | "can-precipitate" | "charge-imbalance" | "closed-to-air" | "counter-ions-assumed" | "feed-strength-never-counts-water" | "figures-assumed" | "form-assumed" | "label-and-local-rules" | "leaves-not-stated" | "liquid-solids-from-analysis" | "material-misfit" | "material-not-in-table" | "materials-do-not-fit" | "measure-after" | "mixture-rule" | "never-near-hypochlorite" | "nitric-fumes" | "nitrogen-forms-from-materials" | "nitrogen-forms-unknown" | "no-blend-needed" | "no-buffer-left" | "not-for-leaves" | "not-soluble-in-the-cold" | "open-to-air" | "ph-assumed" | "ph-from-balance" | "ph-implausible" | "precipitation" | "protect-eyes-and-skin" | "reading-close-to-water" | "shelf" | "softer-water-taken-as-pure" | "solubility-unknown" | "sulfuric-heat" | "targets-not-met" | "urea-invisible" | "water-figures-assumed" | "water-over-ceiling";

/** One report of residue with what was modelled for the round it is about. */
export interface Observation {
  /** When it was seen, RFC 3339. */
  at?: string | null;
  /**
   * The day of the round it is about, `YYYY-MM-DD`. Looks of one day count as one look: they
   * share the error of its model.
   */
  day: string;
  /** The entry of the journal. */
  entry?: string | null;
  /**
   * Modelled residue of feed salts that could have been seen, g/m², 0 to 20; absent where none
   * was modelled or where what was seen is scale.
   */
  feed_g_m2?: number | null;
  /**
   * Feed strength of the round, mg/L, 0 to 10,000; absent where it is not known or where what
   * was seen is scale, which no weaker feed prevents.
   */
  feed_strength_mg_l?: number | null;
  /** The group looked at. */
  group?: string | null;
  /** What was seen. */
  level: Level;
  /** Log-normal uncertainty of both, 0.01 to 3; the usual one of a day when not given. */
  residue_log_sd?: number | null;
  /** The round it is about. */
  round?: string | null;
  /** Modelled carbonate scale that could have been seen, g/m², 0 to 20. */
  scale_g_m2?: number | null;
}

/** One published record of a species. */
export interface ObservationOutput {
  /** Whether the work calls that rise significant. */
  acid_rise_significant: boolean | null;
  /** Rise of titratable acidity over the night, in µmol H⁺ per g fresh weight. */
  acid_rise_umol_g: number | null;
  /** δ¹³C in ‰ against VPDB. */
  d13c_permil: number | null;
  /** How well this record knows it. */
  grade: Grade;
  /** Leaf thickness in mm. */
  leaf_mm: number | null;
  /** How it was determined. */
  method: string;
  /** Remarks. */
  notes: string;
  /** The part measured. */
  organ: Organ;
  /** What the record says of the pathway. */
  pathway: Pathway;
  /** The record as in `data/observations.csv`; it never changes. */
  record: string;
  /** Keys of the works: the primary one, then the compilation it was read in. */
  sources: Array<string>;
}

/** One opening. */
export interface OpeningEntry {
  /** Open by C3 and by CAM alike. */
  either_pathway: boolean;
  /** When it ends. */
  end: string;
  /** The part of the day or night. */
  part: PeakTime | null;
  /** Which opening it is. */
  phase: Phase;
  /** The probability that the stomata are open, 0 to 1: a judgement, not a measured frequency. */
  probability: number;
  /** How practice ranks it: 1 is best, from 4 on practice is against it. */
  rank: number;
  /** The code of that rank. */
  rank_code: ClockCode;
  /** Why. */
  reasons: Array<ReasonEntry>;
  /** When it starts, RFC 3339 with offset. */
  start: string;
}

/** The openings of one plant. */
export interface OpeningList {
  /** The openings in order of time. */
  openings: Array<OpeningEntry>;
  /** What holds for the date as a whole. */
  reasons: Array<ReasonEntry>;
}

/**
 * When the stomata of the leaf are expected open.
 * - `day`: By day.
 * - `night`: By night.
 * - `either`: By day or by night: it differs with the species, the parent or the season.
 * - `unknown`: Not known, or there is no leaf to open.
 */
export type Opens = "day" | "night" | "either" | "unknown";

/**
 * The plant part a value was measured on.
 * - `leaf`: A leaf.
 * - `stem`: A stem.
 * - `pseudobulb`: A pseudobulb.
 * - `root`: A root.
 * - `flower`: A flower or fruit.
 * - `whole`: The whole plant, or not stated.
 */
export type Organ = "leaf" | "stem" | "pseudobulb" | "root" | "flower" | "whole";

/**
 * Whether the name was understood.
 * - `found`: It stands for one taxon.
 * - `ambiguous`: It may stand for several; see `candidates`.
 * - `unknown`: It is not known.
 * - `not_an_orchid`: It is the name of a plant of another family, of which the tables say nothing.
 */
export type Outcome = "found" | "ambiguous" | "unknown" | "not_an_orchid";

/**
 * How a plant fixes carbon, which decides when its stomata open.
 * - `c3`: Carbon is taken up by day.
 * - `weak-cam`: Weak CAM: carbon is taken up by day, and some acid is gained by night.
 * - `cam`: Crassulacean acid metabolism: carbon is taken up mostly by night.
 * - `facultative`: C3 that turns to CAM, in part or wholly, under drought or with age.
 * - `variable`: The species of the genus, or the parents of the hybrid, differ.
 * - `unknown`: Not known.
 */
export type Pathway = "c3" | "weak-cam" | "cam" | "facultative" | "variable" | "unknown";

/**
 * How likely each pathway is, by the declared rule from the values of the taxon, its relatives and
 * its leaf. The three add up to 1.
 */
export interface PathwayChance {
  /** The probability of C3, from 0 to 1. */
  c3: number;
  /** The probability of CAM, from 0 to 1. */
  cam: number;
  /** The probability of weak or facultative CAM, from 0 to 1. */
  weak_cam: number;
}

/** The openings of a date by pathway. */
export interface PathwayOpenings {
  /** A C3 leaf. */
  c3: OpeningList;
  /** A CAM leaf. */
  cam: OpeningList;
  /** A plant that turns from C3 to CAM when short of water. */
  facultative: OpeningList;
  /** A plant of unknown pathway. */
  unknown: OpeningList;
}

/**
 * The time of day at which the widest opening was measured.
 * - `pre-dawn`: The last hours of the night.
 * - `evening`: The hours around and after sunset.
 * - `night`: The middle of the night.
 * - `forenoon`: The hours between sunrise and noon.
 * - `noon`: Around noon.
 * - `afternoon`: The hours between noon and sunset.
 */
export type PeakTime = "pre-dawn" | "evening" | "night" | "forenoon" | "noon" | "afternoon";

/**
 * What the percentages of the label are percent of.
 * - `mass`: Grams in 100 g of product (w/w), the rule for United States labels.
 * - `volume`: Grams in 100 mL of product (w/v), allowed for liquids elsewhere.
 */
export type PercentOf = "mass" | "volume";

/**
 * Which opening of the day it is. The phases are those of CAM (Osmond 1978).
 * - `day-open`: A C3 leaf in the light.
 * - `phase-i`: A CAM leaf in the dark.
 * - `phase-ii`: A CAM leaf after dawn.
 * - `phase-iv`: A CAM leaf before dusk.
 */
export type Phase = "day-open" | "phase-i" | "phase-ii" | "phase-iv";

/** A photo of a plant. */
export interface PhotoTaken {
  /** When, RFC 3339. */
  at: string;
  /** The name of its file. */
  file: string;
}

/**
 * Where residue was seen.
 * - `leaf`: On a leaf.
 * - `root_tip`: On a root tip.
 * - `pot_surface`: On the pot or the top of the mix.
 */
export type Place = "leaf" | "root_tip" | "pot_surface";

/** Advice for one plant. */
export interface PlantAdvice {
  /** The area. */
  area: string;
  /** Where nothing is fed: what would make it possible, and until when to wait, cheapest first. */
  changes?: Array<Change>;
  /** When it is next due, RFC 3339, where the history tells. */
  due?: string | null;
  /**
   * Feed strength of the best window, mg/L of dissolved feed; 0 for plain water; none where
   * the plant is left alone.
   */
  feed_strength_mg_l: number | null;
  /** The grower's identifier. */
  id: string;
  /** Days until the next round at the earliest. */
  interval_days: number;
  /** The name as given. */
  name: string;
  /** Limits within the error of the instruments, and what lies beyond them. */
  near_limits?: Array<ReasonOutput>;
  /** The openings in the time looked at. */
  openings: Array<PlantOpening>;
  /** When its stomata open. */
  opens: Opens;
  /** Passes in the round. */
  passes: number;
  /** How it takes up CO2. */
  pathway: Pathway;
  /** Why, the weightiest first. */
  reasons: Array<ReasonOutput>;
  /** Probability of visible residue in the best window. */
  residue_probability: number | null;
  /** The name it was taken for. */
  taken_for: string;
  /** What was not known, what matters most first. */
  unknowns: Array<Unknown>;
  /** Where the verdict is to wait: until when, RFC 3339 or a date, where that is known. */
  until?: string | null;
  /** What to do. */
  verdict: Verdict;
  /** What the pot gets in a week from leaf and root. */
  weekly?: WeeklyDose | null;
  /** The windows, best first; the second is the runner-up. */
  windows: Array<WindowOutput>;
}

/** One plant of the collection. */
export interface PlantEntry {
  /** The area it stands in. */
  area: string;
  /**
   * The bench or shelf of the area it stands on: plants of one bench are sprayed one after
   * another.
   */
  bench?: string | null;
  /** Whether it is in active growth; root tips count as growth. */
  growth?: Growth;
  /** The grower's own identifier, unique in the collection. */
  id: string;
  /** When it was last fed through the leaf, RFC 3339 or a date. */
  last_fed?: string | null;
  /** When its pot was last flushed with plain water, RFC 3339 or a date. */
  last_flush?: string | null;
  /** What its leaf is like, for a name with no record or a genus that varies. */
  leaf?: Leaf | null;
  /** Leaf area of one side in cm², where measured; overrides `size`. */
  leaf_area_cm2?: number | null;
  /** Genus, species or hybrid as written on the label of the plant. */
  name: string;
  /** Free remarks. */
  notes?: string;
  /** Volume of its pot in litres. */
  pot_l?: number | null;
  /** Feed given at the root each week, in mg of dissolved feed. */
  root_feed_mg_week?: number | null;
  /** How it is grown. */
  setting: Setting;
  /** How large it is. */
  size?: SizeClass;
  /** How strong it is. */
  standing: Standing;
}

/** What one plant got. */
export interface PlantLedger {
  /** Whole days since. */
  days_since_fed?: number | null;
  /** Whole days since. */
  days_since_flush?: number | null;
  /** Dissolved matter measured in what ran out below, mg. */
  drained_mg: number;
  /** The day on which the next flush is due; only for a pot. */
  flush_due?: string | null;
  /** Flushes whose drain was not measured. */
  flushes_not_measured: number;
  /** Dissolved feed it got through leaf and root in the whole time, mg. */
  given_mg: number;
  /** Dissolved feed it got since its last flush, or since the first day, mg. */
  given_since_flush_mg: number;
  /** What was counted and measured on it, by month, from the first entry on. */
  growth?: Array<GrowthMonth>;
  /** What that tells, and how long to wait before it tells more. */
  growth_says?: Array<ReasonOutput>;
  /** The grower's identifier. */
  id: string;
  /** The last feed through the leaf, RFC 3339 or a date. */
  last_fed?: string | null;
  /** The last flush, RFC 3339 or a date. */
  last_flush?: string | null;
  /** When it died, if it did. */
  lost?: string | null;
  /** The name in the collection; absent for a plant that is only in the journal. */
  name?: string | null;
  /** The day from which the next feed through the leaf is due. */
  next_due?: string | null;
  /** Photos, in the order of time. */
  photos?: Array<PhotoTaken>;
  /** What it was sprayed and fed with in the whole time, by product, the last given first. */
  products?: Array<ProductGiven>;
  /** Signs that were logged, in the order of time. */
  signs?: Array<SeenSign>;
  /** What the practice table warns of. */
  warnings: Array<ReasonOutput>;
  /** Its weeks, Monday to Sunday (ISO 8601), without gaps. */
  weeks: Array<PlantWeek>;
}

/** An interval in which the stomata of a plant are expected open. */
export interface PlantOpening {
  /** End, RFC 3339. */
  end: string;
  /** Which opening of the day it is. */
  phase: Phase;
  /** How probable it is that this plant opens then, 0 to 1. */
  probability: number;
  /** Start, RFC 3339. */
  start: string;
}

/** A plant by its identifier and name. */
export interface PlantRef {
  /** The grower's identifier. */
  id: string;
  /** The name as given. */
  name: string;
}

/** The review of one plant. */
export interface PlantReview {
  /** What it got. */
  account: PlantLedger;
  /** What to change or do now, most important first; empty where there is nothing. */
  change: Array<string>;
  /** Whether its strength is right. */
  finding: Finding;
  /** The group whose threshold holds for it; that of the site where absent. */
  group?: string | null;
  /** The last look on its leaves, RFC 3339. */
  last_look?: string | null;
  /** Looks for residue on its leaves in that time, by what was seen: none, faint, clear, heavy. */
  looks: Array<number>;
  /** The next strength: that of its group or site, at most what practice gives such a plant. */
  next?: NextStrength | null;
  /** That in words. */
  strength_says: Array<string>;
  /** What is usual for it now. */
  usual?: Usual | null;
}

/** One plant and how much it got. */
export interface PlantShare {
  /** The grower's identifier of the plant. */
  plant: string;
  /** Volume given to it, over all passes, in mL. */
  volume_ml?: number | null;
}

/** One week of one plant. */
export interface PlantWeek {
  /** The ceiling of both for its pot, mg; absent without a pot of known volume. */
  ceiling_mg?: number | null;
  /** Flushes. */
  flushes: number;
  /** Dissolved feed that stayed on the plant, mg. */
  leaf_mg: number;
  /** Nitrogen in both, mg N, of the feeds whose nitrogen is known. */
  n_mg: number;
  /** The heaviest residue seen on it. */
  residue?: Level | null;
  /** Feeds at the root. */
  root_feeds: number;
  /** Dissolved feed given at the root less what ran out below where measured, mg. */
  root_mg: number;
  /** Whether `root_mg` is the weekly amount stated for the plant, for want of entries. */
  root_stated: boolean;
  /** Rounds with feed. */
  rounds: number;
  /** Rescue soaks. */
  soaks: number;
  /** Its Monday. */
  starts: string;
  /** The week after ISO 8601, such as `2026-W25`. */
  week: string;
  /** Feeds whose nitrogen is not known: `n_mg` is then too low. */
  without_n: number;
  /** Feeds whose volume is not known: they are in no sum. */
  without_volume: number;
}

/**
 * What a bare ppm means to this grower. There is no default.
 * - `n`: mg/L of nitrogen.
 * - `meter_500`: A meter on the 500 scale.
 * - `meter_640`: A meter on the 640 scale.
 * - `meter_700`: A meter on the 700 scale.
 * - `feed`: mg/L of everything dissolved from the feed.
 */
export type PpmMeaning = "n" | "meter_500" | "meter_640" | "meter_700" | "feed";

/** A log-normal distribution of the threshold. */
export interface Prior {
  /** Standard deviation of the natural logarithm, 0.05 to 1. */
  log_sd: number;
  /** Median, g/m², 0.001 to 2. */
  median_g_m2: number;
}

/** What one plant got of one product. */
export interface ProductGiven {
  /** The last of them, RFC 3339. */
  last: string;
  /** Whether it is plain water. */
  plain_water: boolean;
  /** The product; absent for plain water, and for feed of which the product was not written down. */
  product?: string | null;
  /** Feeds at the root. */
  root_feeds: number;
  /** Rounds through the leaf. */
  rounds: number;
}

/**
 * What kind of taxon a name stands for.
 * - `genus`: An accepted genus.
 * - `species`: A species.
 * - `nothogenus`: A hybrid genus.
 * - `cross`: A cross of two genera written out.
 * - `unknown`: Not known, or ambiguous.
 */
export type Rank = "genus" | "species" | "nothogenus" | "cross" | "unknown";

/**
 * How much of a work was read by the person who entered it.
 * - `full text`: The full text.
 * - `abstract`: The abstract only.
 * - `table in a later work`: A table of it as reprinted in a later work.
 * - `memory`: Not read: cited from memory.
 */
export type Read = "full text" | "abstract" | "table in a later work" | "memory";

/** A quantity as it was understood. */
export interface ReadQuantity {
  /** What it is counted as or read on. */
  basis: string | null;
  /** The kind of quantity. */
  kind: Dimension;
  /** The unit code. */
  unit: string;
  /** The number in `unit`. */
  value: number;
}

/** One reading (or forecast) of the air of an area. */
export interface Reading {
  /** Air speed at the leaves in m/s. */
  air_m_s?: number | null;
  /** The area it holds for; every area when not given. */
  area?: string | null;
  /** Global radiation at the leaves in W/m². */
  radiation_w_m2?: number | null;
  /** Relative humidity in %. */
  rh_percent: number;
  /** Air temperature in °C. */
  temp_c: number;
  /** When, RFC 3339 with offset. */
  time: string;
}

/** One reason. */
export interface Reason {
  /** The code, kebab-case English: one of [`codes`]. */
  code: string;
  /** The inputs it rests on, each with its unit in its name. */
  inputs?: Record<string, unknown>;
  /** What it says, in plain words with the numbers in them. */
  message: string;
  /** Keys of the works it rests on, or `common practice, no source`, or `from memory`. */
  sources?: Array<string>;
}

/** One reason. */
export interface ReasonEntry {
  /** The code. */
  code: ClockCode;
  /** The inputs it rests on, by name ending in the unit. */
  inputs?: Record<string, number>;
  /** What it means. */
  message: string;
  /** Keys of `data/sources.csv`; empty for common practice. */
  sources: Array<string>;
}

/** One reason. */
export interface ReasonOutput {
  /** The code, kebab-case English: one of [`codes`]. */
  code: string;
  /** The inputs it rests on, each with its unit in its name. */
  inputs?: Record<string, unknown>;
  /** What it says, in plain words with the numbers in them. */
  message: string;
  /** Keys of the works it rests on, or `common practice, no source`, or `from memory`. */
  sources: Array<string>;
}

/** One product of a recipe. */
export interface RecipeProduct {
  /** The feed strength this product brings, mg/L. */
  feed_strength_mg_l: number;
  /**
   * The mass to weigh, g, rounded to the scale where one was given. Absent for a liquid
   * without a density.
   */
  mass_g?: number | null;
  /** The name on the label. */
  name: string;
  /** Grams (or millilitres, for a liquid without a density) in one litre of solution, exact. */
  per_litre: number;
  /** What the rounding changed, where a resolution was given. */
  rounding?: Rounding | null;
  /** This product's share of each element that the feed brings, percent. */
  share_percent: Record<string, number>;
  /** The same in level spoons, for a powder with a bulk density. */
  spoons?: Spoons | null;
  /** The volume to measure, mL, for a liquid. */
  volume_ml?: number | null;
  /** The supplements that go with it, which its strength and shares count. */
  with?: Array<RecipeSupplement>;
}

/** A request for a recipe: products, targets, volume; pure water unless a report is given. */
export interface RecipeRequest {
  /** Limits not to pass. */
  ceilings?: Ceilings;
  /** The labels of the products to use. */
  products: Array<Label>;
  /** What the grower can weigh. */
  resolution?: ScaleResolution;
  /** Whether nutrient targets count what the feed adds or the total. */
  target_meaning?: TargetMeaning;
  /** What is wanted: one target for one product, any number for several. */
  targets: Array<Target>;
  /**
   * Temperature of the solution, °C (0–40; 25 if omitted): for the reading of a meter
   * without compensation.
   */
  temp_c?: number | null;
  /** How much solution, L (above 0). */
  volume_l: number;
  /** The water; pure water if omitted. */
  water?: WaterReport | null;
}

/** What to weigh out, what will be in the solution and what a meter will show. */
export interface RecipeResponse {
  /** What the answer assumes. */
  assumptions?: Array<Notice>;
  /** The ceilings that keep a target from being met. */
  blocking?: Array<Blocking>;
  /** Specific conductance as a meter will read it, µS/cm at 25 °C. */
  ec25_us_cm: Bounds;
  /**
   * Conductivity at the temperature of the solution, as a meter without compensation reads it,
   * µS/cm.
   */
  ec_us_cm: Bounds;
  /** Whether every target is met within every ceiling. */
  feasible: boolean;
  /**
   * Of that, the ions and urea that the analysis accounts for, mg/L. The rest is crystal
   * water, carriers, chelate and dye.
   */
  feed_ions_mg_l: number;
  /** Feed strength: everything dissolved that comes from the feed, mg/L. */
  feed_strength_mg_l: number;
  /** The same reading on meters that show ppm. */
  meter_ppm: MeterPpm;
  /** The forms of nitrogen, feed and water together. */
  n_forms_mg_l: NitrogenForms;
  /** Total N from the feed, mg/L (ppm N); the water's own is in `profile_mg_l`. */
  n_mg_l: number;
  /** Each product with its amount. */
  products: Array<RecipeProduct>;
  /** Every element of the solution (`n`, `p`, `k`, `ca`, …), with its split. */
  profile_mg_l: Record<string, ElementAmount>;
  /** What the nutrient targets count. */
  target_meaning: TargetMeaning;
  /** Each target with what is reached. */
  targets: Array<TargetReached>;
  /** The volume of solution, L. */
  volume_l: number;
  /** What a reader should know before mixing. */
  warnings: Array<Notice>;
  /** The water's own specific conductance, µS/cm at 25 °C. */
  water_ec25_us_cm: number;
}

/** How much of a supplement goes with a product. */
export interface RecipeSupplement {
  /** The feed strength that it brings, mg/L. */
  feed_strength_mg_l: number;
  /**
   * The mass to weigh, g, in proportion to the product as it is weighed. Absent for a liquid
   * without a density.
   */
  mass_g?: number | null;
  /** The name on its label. */
  name: string;
  /** The volume to measure, mL, for a liquid. */
  volume_ml?: number | null;
}

/** A request for the soak schedule of one rootless plant. */
export interface RescueRequest {
  /**
   * Whether feed and plain water alternate, feed first: for a plant that had much feed, or whose
   * water is hard. Every soak has feed when not given.
   */
  alternate?: boolean;
  /** The area it stands in; the first of the site when not given. */
  area?: string | null;
  /** How many days to plan, 1 to 200. */
  days: number;
  /** The first day, `YYYY-MM-DD`. */
  from: string;
  /** What its leaf is like, for a name with no record or a genus that varies. */
  leaf?: Leaf | null;
  /** The name of the plant. */
  name: string;
  /** The site. */
  site: SiteDescription;
  /** How long one soak lasts, in minutes; 30 when not given, and never more. */
  soak_min?: number | null;
}

/** The soaks of a rootless plant. */
export interface RescueResponse {
  /** Feed strength of the soak, mg/L of dissolved feed. */
  feed_strength_mg_l: number;
  /** Relative humidity to keep it at between soaks, at least, %. */
  humidity_least_percent: number;
  /** The name as given. */
  name: string;
  /** When its stomata open. */
  opens: Opens;
  /** How it takes up CO2. */
  pathway: Pathway;
  /** Why. */
  reasons: Array<ReasonOutput>;
  /** The soaks, in order of time. */
  soaks: Array<Soak>;
  /** The works that the reasons cite. */
  sources: Array<Citation>;
  /** What to do, in order. */
  steps: Array<string>;
  /** When to stop or change, in order of time. */
  stop_when: Array<string>;
  /** What it was taken for. */
  taken_for: string;
  /** What was not known. */
  unknowns: Array<Unknown>;
}

/**
 * Degree of restriction on use.
 * - `none`: No restriction.
 * - `slight_to_moderate`: Slight to moderate restriction.
 * - `severe`: Severe restriction.
 */
export type Restriction = "none" | "slight_to_moderate" | "severe";

/** A request for the review of a collection. */
export interface ReviewRequest {
  /** The moment it is drawn up for, RFC 3339 with offset; later entries are omitted. */
  at: string;
  /** What was done and seen on one site, in any order; at most 100,000. */
  entries: Array<EntryInput>;
  /** The first day of the account, `YYYY-MM-DD`; that of the first entry when not given. */
  from?: string | null;
  /** Whether the grower logs white only, so that a round without a look was probably clean. */
  logs_only_white?: boolean;
  /** The plants that are asked for, by id; all when empty. */
  only?: Array<string>;
  /**
   * The plants of the collection. A plant that is only in the entries is reviewed too, without
   * what its setting and standing would tell.
   */
  plants?: Array<PlantEntry>;
  /** Probability of visible residue that is accepted, 0.01 to 0.5; 0.1 when not given. */
  tolerance?: number | null;
}

/** The review of a collection. */
export interface ReviewResponse {
  /** What was assumed. */
  assumed: Array<ReasonOutput>;
  /** The moment it was drawn up for, RFC 3339. */
  at: string;
  /** Those of each group with reports enough for its own. */
  groups: Array<ThresholdResponse>;
  /** The plants. */
  plants: Array<PlantReview>;
  /** The threshold and the next strength of the site. */
  site: ThresholdResponse;
}

/** The air at one moment. */
export interface RibbonAir {
  /** Relative humidity, %. */
  rh_percent: number;
  /** Temperature, °C. */
  temp_c: number;
  /** When, RFC 3339 with offset. */
  time: string;
}

/** Plants that open alike. */
export interface RibbonGroup {
  /** Their best window, where there is one in these 24 hours. */
  best: WindowOutput | null;
  /** What they share. */
  name: string;
  /** When their stomata are expected open. */
  openings: Array<PlantOpening>;
  /** Their identifiers. */
  plants: Array<string>;
}

/** Plants of one area that get the same for the same reasons. */
export interface RoundGroup {
  /** The area. */
  area: string;
  /** The bench, where the collection names it. */
  bench?: string | null;
  /** When that is, RFC 3339 with offset. */
  driest_at: string;
  /** The driest air of the day that follows, %. */
  driest_rh_percent: number;
  /** Minutes until the leaves are dry; none where they stay wet. */
  dry_minutes?: number | null;
  /** End of the window of this group, RFC 3339 with offset. */
  end: string;
  /** What they share, in words. */
  group: string;
  /** What is left on the plant of the group on which most is, and how sure that is. */
  modelled: ModelledResidue;
  /** The plants. */
  plants: Array<RoundPlant>;
  /** Why, of the hour and the dose planned. */
  reasons: Array<Reason>;
  /** The highest probability of visible residue in the group. */
  residue_probability: number;
  /** The best other time of the first plant of the group: its best where it was moved. */
  runner_up?: Window2 | null;
  /** Start of the window of this group, RFC 3339 with offset. */
  start: string;
  /** What to do. */
  verdict: Verdict;
  /** What the window and dose planned are worth, in full doses, for the plant that gets least. */
  worth?: number;
  /**
   * The share of its worth that the plant of the group forgoes which forgoes most, against its
   * own best window and dose; 0 where all have their best.
   */
  worth_lost?: number;
}

/** Plants of one area that get the same for the same reasons. */
export interface RoundGroupOutput {
  /** The area. */
  area: string;
  /** The bench, where the collection names it. */
  bench?: string | null;
  /** When that is, RFC 3339 with offset. */
  driest_at: string;
  /** The driest air of the day that follows, %. */
  driest_rh_percent: number;
  /** Minutes until the leaves are dry; none where they stay wet. */
  dry_minutes: number | null;
  /** End of the window of this group, RFC 3339 with offset. */
  end: string;
  /** What they share, in words. */
  group: string;
  /** What is left on the plant of the group on which most is, and how sure that is. */
  modelled: ModelledResidue;
  /** The plants. */
  plants: Array<RoundPlant>;
  /** Why, of the hour and the dose planned. */
  reasons: Array<ReasonOutput>;
  /** The highest probability of visible residue in the group. */
  residue_probability: number;
  /** The best other time of the first plant of the group: its best where it was moved. */
  runner_up?: WindowOutput | null;
  /** Start of the window of this group, RFC 3339 with offset. */
  start: string;
  /** What to do. */
  verdict: Verdict;
  /** What the window and dose planned are worth, in full doses, for the plant that gets least. */
  worth: number;
  /**
   * The share of its worth that the plant of the group forgoes which forgoes most, against its
   * own best window and dose; 0 where all have their best.
   */
  worth_lost: number;
}

/** A plant of a round. */
export interface RoundPlant {
  /** The grower's identifier. */
  id: string;
  /** The name as given. */
  name: string;
  /** Volume to spray on it, all passes together, what runs off included, mL. */
  spray_ml: number;
  /** The share of its worth that it forgoes in this round against its own best window and dose. */
  worth_lost?: number;
}

/** A round for a whole collection: one bucket, sittings in order of time, every mister fill. */
export interface RoundResponse {
  /** Who gets nothing now, and why. */
  alone: Array<AloneOutput>;
  /** The bucket, the first where a later sitting needs its own; none where no plant is fed. */
  bucket: BucketOutput | null;
  /** Cautions and assumptions that hold for the whole round. */
  cautions: Array<ReasonOutput>;
  /** Start of the time looked at, RFC 3339. */
  from: string;
  /** Minutes of all sittings together, estimated from the stated pace. */
  minutes: number;
  /** The site. */
  site: string;
  /** When to go round, in order of time. */
  sittings: Array<SittingOutput>;
  /** The works that the reasons cite. */
  sources: Array<Citation>;
  /** End of the time looked at, RFC 3339. */
  to: string;
  /** What was not known, what matters most first. */
  unknowns: Array<Unknown>;
}

/** A round for a whole collection: one bucket, sittings in order of time, every mister fill. */
export interface RoundResponseInput {
  /** Who gets nothing now, and why. */
  alone: Array<Alone>;
  /** The bucket, the first where a later sitting needs its own; none where no plant is fed. */
  bucket?: Bucket | null;
  /** Cautions and assumptions that hold for the whole round. */
  cautions: Array<Reason>;
  /** Start of the time looked at, RFC 3339. */
  from: string;
  /** Minutes of all sittings together, estimated from the stated pace. */
  minutes?: number;
  /** The site. */
  site: string;
  /** When to go round, in order of time. */
  sittings: Array<Sitting>;
  /** The works that the reasons cite. */
  sources: Array<Citation>;
  /** End of the time looked at, RFC 3339. */
  to: string;
  /** What was not known, what matters most first. */
  unknowns: Array<Unknown>;
}

/** One strength in the mister, and everyone who gets it. */
export interface RoundStep {
  /** What a meter will read in the mister, µS/cm at 25 °C. */
  ec25_us_cm: Bounds;
  /** Feed strength, mg/L of dissolved feed; 0 for plain water. */
  feed_strength_mg_l: number;
  /** The mister fills. */
  fills: Array<Fill>;
  /** Who gets it. */
  groups: Array<RoundGroup>;
  /** Nitrogen from the feed, mg/L. */
  n_mg_l: number;
  /** Passes; let the leaves dry in between. */
  passes: number;
  /** Volume to spray, all passes together, mL. */
  spray_ml: number;
}

/** One strength in the mister, and everyone who gets it. */
export interface RoundStepOutput {
  /** What a meter will read in the mister, µS/cm at 25 °C. */
  ec25_us_cm: Bounds;
  /** Feed strength, mg/L of dissolved feed; 0 for plain water. */
  feed_strength_mg_l: number;
  /** The mister fills. */
  fills: Array<Fill>;
  /** Who gets it. */
  groups: Array<RoundGroupOutput>;
  /** Nitrogen from the feed, mg/L. */
  n_mg_l: number;
  /** Passes; let the leaves dry in between. */
  passes: number;
  /** Volume to spray, all passes together, mL. */
  spray_ml: number;
}

/** What rounding to the scale changed. */
export interface Rounding {
  /** The rounded amount less the exact one, percent of the exact one. */
  error_percent: number;
  /** The exact amount, in g (or mL for a volume). */
  exact: number;
  /** The step of the scale, in the same unit. */
  step: number;
}

/** A salt in a stock against its solubility. */
export interface SaltMargin {
  /** Its solubility alone at the coldest temperature, g in 100 g of water. */
  dissolves_g_per_100_g: number;
  /** How much of it the stock holds, g in 100 g of water. */
  holds_g_per_100_g: number;
  /** Holds over dissolves, percent. Salts that share an ion dissolve less than alone. */
  percent_of_solubility: number;
  /** The salt. */
  salt: string;
}

/** The smallest amounts the grower can weigh or measure. */
export interface ScaleResolution {
  /** Step of the scale, g; amounts are not rounded if omitted. */
  mass_g?: number | null;
  /** Step of the syringe or cylinder, mL; amounts are not rounded if omitted. */
  volume_ml?: number | null;
}

/** One name of the tables. */
export interface SearchMatch {
  /** How well the pathway is known. */
  grade: Grade;
  /** What kind of name it is. */
  kind: MatchKind;
  /** The type of leaf. */
  leaf: Leaf;
  /** The name as spelt in the tables. */
  name: string;
  /** When its leaf stomata are expected open. */
  opens: Opens;
  /** How it fixes carbon; `unknown` if it stands for several genera. */
  pathway: Pathway;
  /** For a name that is not accepted: the genera it stands for; for a hybrid genus its parents. */
  stands_for: Array<string>;
}

/** Asks for the names that begin with a text. */
export interface SearchRequest {
  /** The most matches wanted; 12 if omitted. */
  limit?: number | null;
  /**
   * The beginning of a name: a genus, hybrid genus, old name or abbreviation, or a genus and
   * the beginning of an epithet.
   */
  query: string;
}

/** The names that begin as the query does; if none does, what a misspelt name may mean. */
export interface SearchResponse {
  /**
   * The matches: accepted genera and species first, then other names, each in alphabetical
   * order.
   */
  matches: Array<SearchMatch>;
  /** Whether there are more than the limit. */
  more: boolean;
  /** The query as given. */
  query: string;
}

/** A sign that was logged. */
export interface SeenSign {
  /** When it was, RFC 3339. */
  at: string;
  /** The entry. */
  entry: string;
  /** What was seen. */
  sign: Sign;
}

/** Entries that a device sends. */
export interface SendEntriesOutput {
  /**
   * The entries, 1 to 500, each with an `id` of its own. A correction may come before the entry
   * that it corrects.
   */
  entries: Array<DraftOutput>;
}

/**
 * How a plant is grown.
 * - `mounted`: On bark, wood or in a tree.
 * - `basket`: In an open basket.
 * - `potted`: In a pot.
 * - `landscape`: Planted out.
 */
export type Setting = "mounted" | "basket" | "potted" | "landscape";

/**
 * How an area is sheltered.
 * - `room`: A room of a house.
 * - `glass`: A glasshouse.
 * - `outdoors`: Outdoors.
 */
export type Shelter = "room" | "glass" | "outdoors";

/**
 * A side of a leaf.
 * - `lower`: The lower side.
 * - `upper`: The upper side.
 * - `both`: Both sides, where the work gives no density of either.
 */
export type Side = "lower" | "upper" | "both";

/**
 * A sign of growth, or the end of it.
 * - `root_tip`: A new or moving root tip.
 * - `new_growth`: A new shoot or leaf.
 * - `bud`: A spike or bud.
 * - `loss`: The plant died.
 */
export type Sign = "root_tip" | "new_growth" | "bud" | "loss";

/** The place: where it is, its areas, and what its grower has to work with. */
export interface SiteDescription {
  /** The parts of the site with an air or a light of their own. */
  areas: Array<AreaDescription>;
  /** Height above sea level in metres; 0 when not given. */
  elevation_m?: number;
  /**
   * The feeds that the grower gives in turn. Advice is for one product at a time: who reads the
   * folder picks it, by the rota and the journal.
   */
  feeds?: Array<FeedDescription>;
  /** What the grower has and wants. */
  grower?: GrowerSettings;
  /** Latitude in degrees, north positive, −90 to 90. */
  latitude_deg: number;
  /** Longitude in degrees, east positive, −180 to 180. */
  longitude_deg: number;
  /** The name of the site. */
  name: string;
  /** IANA time zone, such as `Europe/London`. */
  time_zone: string;
}

/** One time to go round. */
export interface Sitting {
  /**
   * A bucket of its own, to be mixed for it: the one before would be too old. None where the
   * bucket of the round, or that of an earlier sitting, serves it.
   */
  bucket?: Bucket | null;
  /** End, RFC 3339 with offset. */
  end: string;
  /** Its feed strength, mg/L. */
  left_over_mg_l: number;
  /** What is left in the mister at the end, mL. */
  left_over_ml: number;
  /** Minutes it takes, estimated from the stated pace. */
  minutes?: number;
  /** What is to be said of it, such as that it does not fit its window. */
  notes?: Array<Reason>;
  /**
   * `before-dawn`, `morning`, `day`, `late-afternoon` or `evening` by the sun; `before-lights-on`,
   * `lights-on` or `after-lights-off` in an area lit by lamps alone.
   */
  part_of_day: string;
  /** Start, RFC 3339 with offset. */
  start: string;
  /**
   * The strengths, strongest first, because the bucket is stepped down; within a strength by
   * area, then bench.
   */
  steps: Array<RoundStep>;
}

/** One time to go round. */
export interface SittingOutput {
  /**
   * A bucket of its own, to be mixed for it: the one before would be too old. None where the
   * bucket of the round, or that of an earlier sitting, serves it.
   */
  bucket?: BucketOutput | null;
  /** End, RFC 3339 with offset. */
  end: string;
  /** Its feed strength, mg/L. */
  left_over_mg_l: number;
  /** What is left in the mister at the end, mL. */
  left_over_ml: number;
  /** Minutes it takes, estimated from the stated pace. */
  minutes: number;
  /** What is to be said of it, such as that it does not fit its window. */
  notes?: Array<ReasonOutput>;
  /**
   * `before-dawn`, `morning`, `day`, `late-afternoon` or `evening` by the sun; `before-lights-on`,
   * `lights-on` or `after-lights-off` in an area lit by lamps alone.
   */
  part_of_day: string;
  /** Start, RFC 3339 with offset. */
  start: string;
  /**
   * The strengths, strongest first, because the bucket is stepped down; within a strength by
   * area, then bench.
   */
  steps: Array<RoundStepOutput>;
}

/**
 * The size of a plant, by leaf area.
 * - `small`: About 100 cm² of leaf, one side.
 * - `medium`: About 400 cm².
 * - `large`: About 1500 cm².
 * - `specimen`: About 5000 cm².
 */
export type SizeClass = "small" | "medium" | "large" | "specimen";

/** One soak. */
export interface Soak {
  /** When the plant comes out and dries, RFC 3339 with offset. */
  end: string;
  /** Whether it is one of plain water, where feed and water alternate. */
  plain_water?: boolean;
  /** When it starts, RFC 3339 with offset. */
  start: string;
}

/**
 * A composition and the conditions under which it is analysed. Give the totals in
 * `ions_mmol_l` or in `ions_mg_l`, not in both.
 */
export interface SolutionRequest {
  /** Whether carbon dioxide is exchanged with the air; closed if omitted. */
  co2?: Co2 | null;
  /** Totals in mg/L. */
  ions_mg_l?: IonsMgL | null;
  /** Totals in mmol/L. */
  ions_mmol_l?: IonsMmolL | null;
  /** The measured pH, 0 to 14; if omitted it follows from the charge balance. */
  ph?: number | null;
  /** The temperature, 0 to 40 °C; 25 if omitted. */
  temp_c?: number;
}

/** What a solution holds and how it behaves. */
export interface SolutionResponse {
  /** What the answer takes for granted. */
  assumptions: Array<Notice>;
  /**
   * (cations − anions)/(cations + anions) of the species, in percent: 0 where the pH
   * follows from the balance.
   */
  charge_imbalance_percent: number;
  /** Total inorganic carbon, in mmol/L; where open to air, what the solution took up. */
  dic_mmol_l: number;
  /** The interval in which it is held to lie, in µS/cm. */
  ec25_range_us_cm: Bounds;
  /** Specific conductance, the conductivity at 25 °C, in µS/cm. */
  ec25_us_cm: number;
  /** Conductivity at the temperature, in µS/cm. */
  ec_us_cm: number;
  /** Ionic strength, in mol per kg of water. */
  ionic_strength_mol_kg: number;
  /** Osmolality, in mosmol per kg of water. */
  osmolality_mosm_kg: number;
  /** The pH at the temperature. */
  ph: number;
  /** log10(IAP/K) of each solid whose parts are present; above 0 it can form. */
  saturation_index: Record<string, number>;
  /** Concentration of each species present, in mmol/L, by formula with charge. */
  species_mmol_l: Record<string, number>;
  /** The temperature, in °C. */
  temp_c: number;
  /** What is doubtful about it. */
  warnings: Array<Notice>;
}

/** Level spoons of a powder. */
export interface Spoons {
  /** Teaspoons of 5 mL, exact. */
  metric_tsp: number;
  /** Metric teaspoons rounded to eighths. */
  metric_tsp_rounded: number;
  /** How far that rounding is off, percent. */
  rounding_error_percent: number;
  /** United States teaspoons of 4.929 mL, exact. */
  us_tsp: number;
}

/** A round as far as it tells about residue. */
export interface SprayedRound {
  /** Its day, `YYYY-MM-DD`. */
  day: string;
  /** The entry of the journal. */
  entry?: string | null;
  /** Modelled residue of feed salts, g/m², 0 to 20. */
  feed_g_m2?: number | null;
  /** Feed strength, mg/L, 0 (plain water) to 10,000. */
  feed_strength_mg_l: number;
  /** The product that was dissolved. */
  product?: string | null;
  /** Log-normal uncertainty of what is seen, 0.01 to 3; the usual one of a day when not given. */
  residue_log_sd?: number | null;
  /** Modelled carbonate scale, g/m², 0 to 20. */
  scale_g_m2?: number | null;
  /** The sprayer. */
  sprayer?: string | null;
  /** The water it was dissolved in. */
  water?: string | null;
  /** The wetting agent. */
  wetting_agent?: string | null;
}

/**
 * How strong a plant is.
 * - `established`: Rooted in for years and growing well.
 * - `ordinary`: Neither of the others.
 * - `seedling`: A seedling.
 * - `weak`: Small, weak or recovering.
 * - `rootless`: Without living roots.
 */
export type Standing = "established" | "ordinary" | "seedling" | "weak" | "rootless";

/** A stock solution: the product made up with water to a volume, measured out with a syringe. */
export interface Stock {
  /** Days it is kept, closed, dark and cool. */
  keeps_days: number;
  /** The volume it is made up to with water, mL. */
  made_up_to_ml: number;
  /** Product to weigh, g; none for a liquid. */
  mass_g?: number | null;
  /** What of it goes into the bucket, mL. */
  take_ml: number;
  /** Product to measure, mL; none for a powder. */
  volume_ml?: number | null;
}

/** Stomata on one side of the leaves of a species. */
export interface StomataCount {
  /** Stomata in a square millimetre; 0 where there are none. */
  per_mm2: number | null;
  /** The side of the leaf. */
  side: Side;
  /** Keys of the works. */
  sources: Array<string>;
}

/** One cell. */
export interface StrengthCell {
  /** The air movement. */
  air: AirWord;
  /** Minutes until a film of that strength is dry to the touch; none where it stays wet. */
  dry_minutes: number | null;
  /** Relative humidity, %. */
  rh_percent: number;
  /**
   * The likely share of the feed that enters the leaf before it is dry, or within the hours that
   * are counted where it stays wet, 0 to 1.
   */
  share_taken_up: number;
  /** The highest acceptable feed strength in one pass, mg/L; 0 where even the water is too much. */
  strength_mg_l: number;
}

/** A request for the safe-strength chart of a product in a water. */
export interface StrengthChartRequest {
  /** The product. */
  feed: Label;
  /** The grower's own residue threshold, g/m². */
  residue_threshold_g_m2?: number | null;
  /** Air temperature in °C, 0 to 45. */
  temp_c: number;
  /** The probability of visible residue that is accepted, 0.01 to 0.5. */
  tolerance?: number | null;
  /** The water; pure where not given. */
  water?: WaterReport | null;
}

/** The chart. */
export interface StrengthChartResponse {
  /** The air movements, one a column. */
  air: Array<AirColumn>;
  /** One cell for each humidity (from humid to dry) and air movement (from still to windy). */
  cells: Array<StrengthCell>;
  /** The chart in words. */
  description: Array<string>;
  /** The highest strength that was tried, mg/L. */
  most_mg_l: number;
  /** The product. */
  product: string;
  /** Above this humidity a film of 300 mg/L stays liquid, %. */
  stays_wet_above_percent: number;
  /** Air temperature, °C. */
  temp_c: number;
  /** The probability of visible residue that is accepted. */
  tolerance: number;
}

/**
 * What decides the proposed strength.
 * - `reports`: The reports: a stronger feed would be seen more often than is accepted.
 * - `cap`: The cap: the reports would allow more, practice gives such plants no more.
 * - `guard`: White was seen: at most half of that strength until looks are clean again.
 * - `reports-plain-water`: Plain water: even the least useful strength would be seen more often than is accepted.
 * - `guard-plain-water`: Plain water: white was seen at so low a strength that half of it is not worth giving.
 * - `no-usual-day`: The cap, for want of a recent round with a modelled residue: the reports cannot be judged.
 */
export type StrengthReason = "reports" | "cap" | "guard" | "reports-plain-water" | "guard-plain-water" | "no-usual-day";

/**
 * What the sun does on a civil date.
 * - `rises-and-sets`: It rises and sets on this date.
 * - `rises-only`: It rises and does not set again on this date.
 * - `sets-only`: It sets and does not rise on this date.
 * - `polar-day`: It stays up all day.
 * - `polar-night`: It stays down all day, though there may be civil twilight.
 */
export type SunCourse = "rises-and-sets" | "rises-only" | "sets-only" | "polar-day" | "polar-night";

/** A supplement that goes with a feed. */
export interface Supplement {
  /**
   * How much of it for each gram of the feed, or for each mL of a liquid feed: g of a powder, mL
   * of a liquid (g where its percentages are of mass and its density is not stated), 0.001 to
   * 1,000.
   */
  amount: number;
  /** Its label, without supplements of its own. */
  label: Label;
}

/** A supplement that goes into the bucket with a feed. */
export interface SupplementDescription {
  /**
   * How much of it for each gram of the feed, or for each mL of a liquid feed: g of a powder, mL
   * of a liquid, 0.001 to 1,000.
   */
  amount: number;
  /** The product by its label: its name or a part of it. */
  product: string;
}

/** What is left in a bucket. */
export interface Surplus {
  /** The volume, mL. */
  ml: number;
  /** Pots with room under their weekly ceiling, with what each may get at the root. */
  pots?: Array<SurplusPot>;
  /** What it is good for. */
  reason: Reason;
}

/** What is left in a bucket. */
export interface SurplusOutput {
  /** The volume, mL. */
  ml: number;
  /** Pots with room under their weekly ceiling, with what each may get at the root. */
  pots?: Array<SurplusPot>;
  /** What it is good for. */
  reason: ReasonOutput;
}

/** A pot that may get what is left in the bucket at the root. */
export interface SurplusPot {
  /** The grower's identifier. */
  id: string;
  /** The most it may get, mL. */
  ml: number;
  /** The name as given. */
  name: string;
}

/** What became of one entry. */
export interface Taken {
  /** Why it was refused. */
  error?: Error | null;
  /** The identifier of the entry, where it has one that can be read. */
  id?: string | null;
  /** Whether it is in the journal now. */
  outcome: EntryOutcome;
  /** Its place in the order of recording, from 1; only where it is in the journal. */
  sequence?: number | null;
}

/** One tank. */
export interface Tank {
  /** What to dissolve in it. */
  products: Array<TankAmount>;
  /**
   * Every solid that the ions present can form, by exchange too, nearest to saturation first;
   * omitted where the stock is outside the model (a warning says why).
   */
  solids?: Array<TankSolid> | null;
  /** Salts of the stock against their solubility at the coldest temperature. */
  solubility: Array<SaltMargin>;
  /**
   * The share of this strength, percent, up to which nothing comes down at the coldest
   * temperature; omitted where the stock is outside the model.
   */
  stays_clear_to_percent?: number | null;
  /** `A`, `B`, … */
  tank: string;
}

/** An amount of one product in a stock. */
export interface TankAmount {
  /** Grams (mL) for the whole stock. */
  amount: number;
  /** The product. */
  name: string;
  /** Grams (mL for a liquid without a density) per litre of stock. */
  per_litre: number;
  /** `g` or `mL`. */
  unit: string;
}

/** A product and how much of it the finished solution holds. */
export interface TankProduct {
  /** Its label. */
  label: Label;
  /** How much of it one litre of finished solution holds, g (mL for a liquid without a density). */
  per_litre: number;
}

/** A question about stock tanks. */
export interface TankRequest {
  /** The coldest temperature the tank will see, °C (0–40). */
  coldest_c: number;
  /** What N counts. */
  convention: Convention;
  /** N of the injector's 1:N. */
  injector_n: number;
  /** The products. */
  products: Array<TankProduct>;
  /** The volume of stock, L. */
  stock_l: number;
}

/** How to divide products among stock tanks. */
export interface TankResponse {
  /** Pairs of products that must not share a tank, and why. */
  apart: Array<Notice>;
  /** The tanks, as few as the products allow. */
  tanks: Array<Tank>;
  /** What a reader should know. */
  warnings: Array<Notice>;
}

/** A solid that the ions of a stock can form, also one that no product holds. */
export interface TankSolid {
  /** Its formula. */
  formula: string;
  /** The solid, such as `potassium sulfate`. */
  name: string;
  /**
   * log10 of the ion activity product over the constant at the coldest temperature: above 0 it
   * comes down. The ends differ where the model has only bounds.
   */
  saturation_index: Bounds;
}

/** One target. */
export type Target = TargetNutrient | TargetFeedStrength | TargetEc25 | TargetEc25AboveWater;

/** What the meter should read in the end, water and feed together, µS/cm at 25 °C. */
export interface TargetEc25 {
  ec25: TargetEc25Value;
}

/** How much the feed should raise the reading above the water's own, µS/cm at 25 °C. */
export interface TargetEc25AboveWater {
  ec25_above_water: TargetEc25AboveWaterValue;
}

export interface TargetEc25AboveWaterValue {
  /** µS/cm at 25 °C. */
  us_cm: number;
}

export interface TargetEc25Value {
  /** µS/cm at 25 °C. */
  us_cm: number;
}

/**
 * Feed strength, mg/L of everything dissolved that comes from the feed. It never counts the
 * water, whatever the meaning of targets.
 */
export interface TargetFeedStrength {
  feed_strength: TargetFeedStrengthValue;
}

export interface TargetFeedStrengthValue {
  /** mg/L. */
  mg_l: number;
}

/**
 * What the figures of a target count.
 * - `added-feed`: What the feed adds; the water's own comes on top, and the meter reads both.
 * - `total`: Feed and water together: what the water holds is subtracted.
 */
export type TargetMeaning = "added-feed" | "total";

/** A nutrient on a stated basis. */
export interface TargetNutrient {
  nutrient: TargetNutrientValue;
}

export interface TargetNutrientValue {
  /** The basis, such as `N` or `P2O5`. */
  basis: BasisName;
  /** The high end of what is still as good, mg/L; the figure itself if omitted. */
  high_mg_l?: number | null;
  /** The low end of what is still as good, mg/L; the figure itself if omitted. */
  low_mg_l?: number | null;
  /** The figure wanted, mg/L (the same as ppm). */
  mg_l: number;
  /** How much this target counts against others; 1 if omitted. */
  weight?: number | null;
}

/** One target and what is reached. */
export interface TargetReached {
  /** Reached less wanted, percent of the wanted figure. */
  deviation_percent: number;
  /** Whether it lies within the wanted range (or within 1 % of the figure). */
  met: boolean;
  /** The figure reached, in the target's own unit and basis and with its meaning. */
  reached: number;
  /** The target as asked. */
  target: Target;
}

/** One taxon beside the answer: something the name may mean, or a parent of a hybrid. */
export interface TaxonBrief {
  /** Letters by which the query is off its name; 0 for a parent or an exact name. */
  edits: number;
  /** How well the pathway is known. */
  grade: Grade;
  /** The type of leaf. */
  leaf: Leaf;
  /** Its accepted name. */
  name: string;
  /** When its leaf stomata are expected open. */
  opens: Opens;
  /** How it fixes carbon. */
  pathway: Pathway;
  /** What kind of taxon it is. */
  rank: Rank;
  /** Keys of the works. */
  sources: Array<string>;
}

/** A request for the learned threshold and the next feed strength. */
export interface ThresholdRequest {
  /**
   * The day it is asked for, `YYYY-MM-DD`: the threshold drifts on to it. The day of the last
   * observation or round when not given. Later observations and rounds are omitted.
   */
  day?: string | null;
  /**
   * The group whose threshold is asked for; the whole site when not given. Reports on other
   * plants then only tell about the site.
   */
  group?: string | null;
  /** Asks what each of the last looks did to the threshold. */
  influence?: boolean;
  /** The probability that the interval holds, 0.5 to 0.99; 0.9 when not given. */
  interval_share?: number | null;
  /** Whether the grower logs white only, so that a round without a look was probably clean. */
  logs_only_white?: boolean;
  /** Asks for the next feed strength. */
  next?: NextStrengthRequest | null;
  /** What was omitted from the observations, repeated in the answer. */
  not_used?: Array<NotUsed>;
  /** What was seen, in any order; at most 100,000. */
  observations: Array<Observation>;
  /** Where to start from; the shipped calibration when not given. */
  prior?: Prior | null;
  /**
   * The rounds that were sprayed, in any order; at most 100,000. They tell when product, water,
   * wetting agent or sprayer changed, and which rounds nobody looked at.
   */
  rounds?: Array<SprayedRound>;
}

/** The learned threshold. */
export interface ThresholdResponse {
  /**
   * Whether no look shows the threshold from above: then the median and the upper end say
   * little, and the threshold is at least the lower end.
   */
  at_least: boolean;
  /** Days on which another product, water, wetting agent or sprayer was recorded, `YYYY-MM-DD`. */
  changes: Array<Change2>;
  /** Rounds without a look that were counted as probably clean. */
  counted_as_clean: number;
  /** Both distributions, for drawing. */
  curve: Array<CurvePoint>;
  /** The day it is for, `YYYY-MM-DD`; absent where nothing was observed and no day asked for. */
  day?: string | null;
  /** The reports, in the order given. */
  evidence: Array<Evidence2>;
  /** The group it is for; the site where absent. */
  group?: string | null;
  /** The probability that each interval holds. */
  interval_share: number;
  /** The next feed strength, where it was asked for. */
  next?: NextStrength | null;
  /** What was omitted, and why. */
  not_used: Array<NotUsed>;
  /** After all reports, drifted on to the day. */
  posterior: Estimate;
  /** Before any report on it. */
  prior: Estimate;
}

/** Something that was not known, and how much it matters. */
export interface Unknown {
  /** What was assumed instead. */
  assumed: string;
  /** How to find out. */
  measure: string;
  /** In a round: the ids of the plants it holds for. */
  plants?: Array<string>;
  /**
   * How far the answer moves over the plausible range: the change of the probability of
   * visible residue, or of the probability that the stomata are open, 0 to 1.
   */
  spread: number;
  /** What was not known. */
  what: string;
}

/**
 * The share of the feed that enters a leaf, 0 to 1. Plants differ widely: about 1 chance in 10
 * that it is below `low`, and 1 in 10 that it is above `high`.
 */
export interface UptakeShare {
  /** A high value. */
  high: number;
  /** The likely value. */
  likely: number;
  /** A low value. */
  low: number;
}

/** What is usual for a plant now, from its last rounds. */
export interface Usual {
  /** Their feed strength (median), mg/L. */
  feed_strength_mg_l: number;
  /** Rounds it is taken from. */
  rounds: number;
}

/** What a round leaves on a usual day. */
export interface UsualDay {
  /** Modelled residue for each mg/L of feed strength, g/m² per mg/L, 0 to 0.01. */
  residue_g_m2_per_mg_l: number;
  /** Log-normal uncertainty of both, 0.01 to 3; the usual one of a day when not given. */
  residue_log_sd?: number | null;
  /** Modelled residue without any feed, g/m² weighed as whiteness, 0 to 20. */
  residue_without_feed_g_m2?: number;
}

/**
 * What to do with a plant.
 * - `feed`: Feed in the window given.
 * - `wait`: Nothing yet: a later window or date is given.
 * - `water-only`: Plain water only.
 * - `leave`: Leave alone.
 */
export type Verdict = "feed" | "wait" | "water-only" | "leave";

/** The other name that led to the answer. */
export interface Via {
  /** How well it is known that it is a name of the answer. */
  evidence: NameEvidence;
  /** What kind of name it is. */
  kind: NameKind;
  /** The name. */
  name: string;
}

/** Saturation with calcium carbonate, and what irrigation guidelines make of the water. */
export interface WaterIndices {
  /**
   * Saturation index of calcite: log10 of the ion activity product over the constant of
   * Plummer & Busenberg (1982); omitted where the water holds no calcium or carbonate.
   */
  calcite_saturation_index?: number | null;
  /**
   * Calcium carbonate precipitation potential (Standard Methods 2330 C), mg/L as CaCO3: what
   * comes down until the closed water is in equilibrium with calcite; negative where it
   * dissolves.
   */
  ccpp_mg_l_caco3?: number | null;
  /**
   * Degrees of restriction on use (Ayers & Westcot 1985, FAO Irrigation and Drainage Paper 29,
   * table 1), which were drawn up for field soils.
   */
  irrigation: Array<IrrigationClass>;
  /**
   * Langelier index (Langelier 1936; Standard Methods 2330 B): pH less the pH at which a water
   * of the same calcium, alkalinity and temperature is in equilibrium with calcite.
   */
  langelier_index?: number | null;
  /** The pH that the indices hold for, stated or assumed. */
  ph: number;
  /**
   * Sodium adsorption ratio, (meq/L)^½: Na/√((Ca + Mg)/2); omitted without calcium and
   * magnesium.
   */
  sodium_adsorption_ratio?: number | null;
  /** The temperature that the indices hold for, °C. */
  temp_c: number;
}

/**
 * A water report. Every figure is optional; omitted figures are completed and marked as assumed.
 * Fields without a unit in their name take text with a unit.
 */
export interface WaterReport {
  /** Alkalinity as text, such as `"210 mg/L CaCO3"`, `"4.2 meq/L"`, `"256 mg/L HCO3"`, `"11 °dKH"`. */
  alkalinity?: string | null;
  /** Alkalinity, mg/L as CaCO3. */
  alkalinity_mg_l_caco3?: number | null;
  /** Calcium, mg/L as Ca. */
  ca_mg_l?: number | null;
  /** Chloride, mg/L. */
  cl_mg_l?: number | null;
  /** Conductivity as text with its unit, such as `"0.62 mS/cm at 20 °C"`. */
  ec?: string | null;
  /**
   * The temperature the conductivity refers to, °C: 25 where the meter compensates (the
   * default), the water's own where it does not.
   */
  ec_temp_c?: number | null;
  /** Conductivity as read, µS/cm (0–20 000). */
  ec_us_cm?: number | null;
  /** Total hardness as text with its unit, such as `"14 °dH"`, `"250 mg/L CaCO3"`, `"2.5 mmol/L"`. */
  hardness?: string | null;
  /** Total hardness, mg/L as CaCO3. */
  hardness_mg_l_caco3?: number | null;
  /** Bicarbonate, mg/L as HCO3, where the report gives it instead of alkalinity. */
  hco3_mg_l?: number | null;
  /** Potassium, mg/L as K. */
  k_mg_l?: number | null;
  /** Magnesium, mg/L as Mg. */
  mg_mg_l?: number | null;
  /** Sodium, mg/L. */
  na_mg_l?: number | null;
  /** A name for the water. */
  name?: string | null;
  /** Ammonium, mg/L as NH4. */
  nh4_mg_l?: number | null;
  /** Ammoniacal nitrogen, mg/L as N. */
  nh4_n_mg_l?: number | null;
  /** Nitrate, mg/L as NO3. */
  no3_mg_l?: number | null;
  /** Nitrate nitrogen, mg/L as N. */
  no3_n_mg_l?: number | null;
  /** Phosphorus, mg/L as P. */
  p_mg_l?: number | null;
  /** pH (3–11). */
  ph?: number | null;
  /** Orthophosphate, mg/L as PO4. */
  po4_mg_l?: number | null;
  /** Sulfate, mg/L as SO4. */
  so4_mg_l?: number | null;
  /** Temperature of the water when the pH was read, °C (0–40). */
  temp_c?: number | null;
}

/** A question about a water. */
export interface WaterRequest {
  /** A blend with softer water that is wanted. */
  blend?: BlendRequest | null;
  /** A ceiling under which the feed headroom is wanted. */
  headroom?: HeadroomRequest | null;
  /** The report. */
  water?: WaterReport;
}

/** What a water alone leaves when it dries, in mg per litre dried. */
export interface WaterResidue {
  /**
   * Everything else (sulfates, chlorides, sodium and potassium salts), without crystal water,
   * mg/L. Plain soft water rinses it off.
   */
  other_salts_mg_l: number;
  /**
   * Calcium and magnesium carbonate scale, after the bicarbonate has lost its CO2, mg/L as CaCO3.
   * It needs an acid (vinegar, citric) to come off, not water.
   */
  scale_caco3_mg_l: number;
  /**
   * The same as it lies on the leaf (calcite, and magnesium carbonate with its crystal water),
   * mg/L.
   */
  scale_mg_l: number;
  /** Both together, mg/L. */
  total_mg_l: number;
}

/** A water, completed, with what follows from it. */
export interface WaterResponse {
  /** Alkalinity, mg/L as CaCO3. */
  alkalinity_mg_l_caco3: number;
  /** What was assumed. */
  assumed: Array<Assumed>;
  /** The blend, where asked. */
  blend?: BlendResponse | null;
  /** (cations − anions)/(cations + anions) of the stated and completed ions, percent. */
  charge_imbalance_percent: number;
  /** What does not agree. */
  contradictions: Array<Contradiction>;
  /** Specific conductance computed from the completed ions, µS/cm. */
  ec25_from_ions_us_cm: number;
  /** Specific conductance at 25 °C, µS/cm: stated (converted to 25 °C) or computed. */
  ec25_us_cm: number;
  /** Total hardness, mg/L as CaCO3. */
  hardness_mg_l_caco3: number;
  /** The feed headroom, where asked. */
  headroom?: Headroom | null;
  /** Saturation with calcite, sodium adsorption and irrigation classes. */
  indices: WaterIndices;
  /**
   * The completed ions by solute (`ca`, `mg`, `k`, `na`, `nh4`, `no3`, `p`, `so4`, `cl`,
   * `dic`), mg/L, each weighed as itself (`no3` as NO3, `p` as P, `so4` as SO4, `dic` as HCO3).
   */
  ions_mg_l: Record<string, number>;
  /** The same in mmol/L. */
  ions_mmol_l: Record<string, number>;
  /** The name on the report, or "water". */
  name: string;
  /** pH as stated, if it is. */
  ph?: number | null;
  /** What the water alone leaves when it dries. */
  residue: WaterResidue;
  /** What the water supplies by element (`n`, `p`, `k`, `ca`, `mg`, `s`, `na`, `cl`), mg/L. */
  supplies_mg_l: Record<string, number>;
  /** What a reader should know. */
  warnings: Array<Notice>;
}

/**
 * How well the plant is supplied with water.
 * - `watered`: Watered as usual, not short of water.
 * - `drought`: Dry for some days: CAM keeps to the night, facultative plants turn to CAM.
 * - `severe_drought`: Shrivelled: stomata stay shut day and night.
 */
export type WaterStatus = "watered" | "drought" | "severe_drought";

/** Leaf and root feed of a potted plant in a week. */
export interface WeeklyDose {
  /** The ceiling for this pot, mg; none where the pot's volume is not stated. */
  ceiling_mg: number | null;
  /** When the pot is due for a flush with plain water, a date; none where the last is not known. */
  flush_due: string | null;
  /** From the leaf, mg of dissolved feed. */
  leaf_mg: number;
  /** From the root, mg of dissolved feed; none where not stated. */
  root_mg: number | null;
}

/**
 * Which sides of the leaf are wet.
 * - `one`: One side; the other exchanges heat and stays dry.
 * - `both`: Both sides, each with the film load.
 */
export type WetSides = "one" | "both";

/** From when to when. */
export interface Window {
  /** Start, RFC 3339 with offset. */
  from: string;
  /** End, RFC 3339 with offset. */
  to: string;
}

/** An interval to work in. */
export interface Window2 {
  /** How the air from the start of the window to the driest hour after it is known: the weakest. */
  basis: AirBasis;
  /** What is lost against the best window, in words; empty for the best. */
  costs?: string;
  /** When that is, RFC 3339 with offset. */
  driest_at: string;
  /** The driest air of the day that follows, which decides how much turns solid, %. */
  driest_rh_percent: number;
  /** Minutes until the leaf is dry at the middle of the window; none where it stays wet. */
  dry_minutes?: number | null;
  /** End, RFC 3339 with offset. */
  end: string;
  /** Feed strength, mg/L of dissolved feed. */
  feed_strength_mg_l: number;
  /** What is left and how sure that is, at the worst hour of the window. */
  modelled: ModelledResidue;
  /** How probable it is that the stomata are open then, 0 to 1. */
  open_probability: number;
  /** Passes. */
  passes: number;
  /** The opening it lies in. */
  phase: Phase;
  /** Probability of visible residue at the worst hour of the window. */
  residue_probability: number;
  /** Of it, the part that the water alone would leave. */
  scale_probability: number;
  /** Start, RFC 3339 with offset. */
  start: string;
  /**
   * The share of the feed that enters the leaf before it is dry, or within the hours counted
   * where it stays wet.
   */
  uptake: UptakeShare;
  /**
   * Minutes for which the velamen of hanging roots stays wet; none for other roots, and where it
   * does not dry.
   */
  velamen_minutes?: number | null;
  /** What the window is worth: the objective by which windows are ranked, in full doses. */
  worth: number;
}

/** From when to when. */
export interface Window2Output {
  /** Start, RFC 3339 with offset. */
  from: string;
  /** End, RFC 3339 with offset. */
  to: string;
}

/** An interval to work in. */
export interface WindowOutput {
  /** How the air from the start of the window to the driest hour after it is known: the weakest. */
  basis: AirBasis;
  /** What is lost against the best window, in words; empty for the best. */
  costs?: string;
  /** When that is, RFC 3339 with offset. */
  driest_at: string;
  /** The driest air of the day that follows, which decides how much turns solid, %. */
  driest_rh_percent: number;
  /** Minutes until the leaf is dry at the middle of the window; none where it stays wet. */
  dry_minutes: number | null;
  /** End, RFC 3339 with offset. */
  end: string;
  /** Feed strength, mg/L of dissolved feed. */
  feed_strength_mg_l: number;
  /** What is left and how sure that is, at the worst hour of the window. */
  modelled: ModelledResidue;
  /** How probable it is that the stomata are open then, 0 to 1. */
  open_probability: number;
  /** Passes. */
  passes: number;
  /** The opening it lies in. */
  phase: Phase;
  /** Probability of visible residue at the worst hour of the window. */
  residue_probability: number;
  /** Of it, the part that the water alone would leave. */
  scale_probability: number;
  /** Start, RFC 3339 with offset. */
  start: string;
  /**
   * The share of the feed that enters the leaf before it is dry, or within the hours counted
   * where it stays wet.
   */
  uptake: UptakeShare;
  /**
   * Minutes for which the velamen of hanging roots stays wet; none for other roots, and where it
   * does not dry.
   */
  velamen_minutes?: number | null;
  /** What the window is worth: the objective by which windows are ranked, in full doses. */
  worth: number;
}

/**
 * Whether plants under cover that see the sun alone rest in the dark months.
 * - `rest`: They rest: no evening misting while the days are short, and in a room nothing is misted but weak and rootless plants.
 * - `grow`: Growth goes on, by warmth or by lamps that are not described here.
 */
export type Winter = "rest" | "grow";

/** A period of the day in local time; `to` earlier than `from` runs over midnight. */
export interface WorkingHours {
  /** Start, `HH:MM`. */
  from: string;
  /** End, `HH:MM`. */
  to: string;
}

/** Every call by its name, with the types of its request and answer. */
export interface Calls {
  /** For each plant: feed, wait, water only or leave alone; when, how strong, and why. */
  advise: { request: AdviceRequest; response: AdviceResponse };
  /** One bucket, the order of the plants and every mister fill; needs `feed`. */
  round: { request: AdviceRequest; response: RoundResponse };
  /** The soaks of a rootless plant. */
  rescue: { request: RescueRequest; response: RescueResponse };
  /** The highest feed strength that leaves acceptable residue, by humidity and air movement. */
  strength_chart: { request: StrengthChartRequest; response: StrengthChartResponse };
  /** The 24-hour ribbon of an area: light, humidity, openings and best windows. */
  day_ribbon: { request: DayRibbonRequest; response: DayRibbonResponse };
  /** What to weigh of which product for a target, in this water. */
  recipe: { request: RecipeRequest; response: RecipeResponse };
  /** A water report completed, with headroom, blend and residue. */
  water: { request: WaterRequest; response: WaterResponse };
  /** Conductivity, pH, species and saturation of one composition. */
  solution: { request: SolutionRequest; response: SolutionResponse };
  /** The feed strength that a meter reading indicates. */
  meter: { request: MeterRequest; response: MeterResponse };
  /** How much acid brings a water to a pH or alkalinity. */
  acid: { request: AcidRequest; response: AcidResponse };
  /** Which concentrates may share a stock tank. */
  tank: { request: TankRequest; response: TankResponse };
  /** Convert a quantity to another unit or basis. */
  convert: { request: ConvertRequest; response: ConvertResponse };
  /** Dew point, wet bulb and vapour pressure deficit of moist air. */
  air: { request: AirRequest; response: AirResponse };
  /** How one film dries and what it leaves. */
  film: { request: FilmRequest; response: FilmResponse };
  /** Sun, light and openings of one date. */
  day: { request: DayRequest; response: DayResponse };
  /** When a plant opens its stomata, from its name. */
  genus: { request: GenusRequest; response: GenusResponse };
  /** Names that begin with a text. */
  search: { request: SearchRequest; response: SearchResponse };
  /** Every name of the tables. */
  catalogue: { request: CatalogueRequest; response: CatalogueResponse };
  /** The residue threshold of a grower, learned from what was seen, and the next feed strength. */
  threshold: { request: ThresholdRequest; response: ThresholdResponse };
  /** What each plant got, whether its feed strength is right, what to change now. */
  review: { request: ReviewRequest; response: ReviewResponse };
  /** What each plant got by week, and what is due. */
  ledger: { request: LedgerRequest; response: Ledger };
  /** A plan of soaks compared with the entries. */
  adherence: { request: AdherenceRequest; response: Adherence };
  /** What was done or seen, checked, as a journal records it. */
  entry: { request: Draft; response: Entry };
  /** The entries of a planned sitting as it was given. */
  given: { request: GivenRequest; response: GivenRounds };
  /** The journal of a device, one step further. */
  device_journal: { request: DeviceRequest; response: DeviceResponse };
}
