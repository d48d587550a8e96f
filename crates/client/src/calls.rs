//! One method for each function of the library.

use crate::client::{Client, not_guardcell};
use crate::error::ClientError;
use guardcell::advice::chart::{
    DayRibbonRequest, DayRibbonResponse, StrengthChartRequest, StrengthChartResponse,
};
use guardcell::advice::round::RoundResponse;
use guardcell::advice::{AdviceRequest, AdviceResponse, RescueRequest, RescueResponse};
use guardcell::clock::{DayReport, DayRequest};
use guardcell::film::{AirReport, AirRequest, FilmReport, FilmRequest};
use guardcell::reference::{
    CatalogueResponse, GenusRequest, GenusResponse, SearchRequest, SearchResponse,
};
use guardcell::solution::{
    AcidRequest, AcidResponse, MeterRequest, MeterResponse, RecipeRequest, RecipeResponse,
    SolutionRequest, SolutionResponse, TankRequest, TankResponse, WaterRequest, WaterResponse,
};
use guardcell::units::{ConvertRequest, ConvertResponse};

macro_rules! calls {
    ($($(#[$doc:meta])* $name:ident($request:ty) -> $answer:ty, $path:literal, $example:literal;)*) => {
        impl Client {
            $(
                $(#[$doc])*
                ///
                /// # Errors
                /// [`ClientError`]; [`ClientError::Refused`] where the library refuses the request.
                ///
                /// ```no_run
                #[doc = concat!("use guardcell_client::Client;\n\
                    let client = Client::new(\"http://127.0.0.1:8427\")?;\n\
                    let request = serde_json::from_str(", $example, ")?;\n\
                    let answer = client.", stringify!($name), "(&request)?;\n\
                    # Ok::<(), Box<dyn std::error::Error>>(())")]
                /// ```
                pub fn $name(&self, request: &$request) -> Result<$answer, ClientError> {
                    self.post($path, request)
                }
            )*
        }

        #[cfg(test)]
        mod tests {
            use super::*;

            /// The examples above are requests.
            #[test]
            fn examples_are_requests() {
                let json = |text: &'static str| text.strip_prefix("r#\"")?.strip_suffix("\"#");
                $(if let Some(example) = json($example) {
                    let read = serde_json::from_str::<$request>(example);
                    assert!(read.is_ok(), "{}: {read:?}", stringify!($name));
                })*
            }
        }
    };
}

calls! {
    /// A quantity of the trade in another unit or basis.
    convert(ConvertRequest) -> ConvertResponse, "v1/conversions",
        r##"r#"{"quantity": "120 ppm P2O5", "to": "ppm P"}"#"##;
    /// What to weigh of which product for a target, in this water.
    recipe(RecipeRequest) -> RecipeResponse, "v1/recipes",
        r##"r#"{"products": [{"name": "X", "guaranteed": {"n_percent": 13}}], "volume_l": 4, "targets": [{"feed_strength": {"mg_l": 300}}]}"#"##;
    /// A water report completed, with headroom, blend and residue.
    water(WaterRequest) -> WaterResponse, "v1/waters",
        r##"r#"{"water": {"name": "tap", "ec_us_cm": 420}}"#"##;
    /// Conductivity, pH, species and saturation of one composition.
    analyse(SolutionRequest) -> SolutionResponse, "v1/solutions",
        r##"r#"{"ions_mmol_l": {"k": 1, "no3": 1}, "temp_c": 20}"#"##;
    /// What a meter reading says of the feed strength.
    meter(MeterRequest) -> MeterResponse, "v1/meters",
        r##"r#"{"label": {"name": "X", "guaranteed": {"n_percent": 13}}, "reading": {"ec_us_cm": 450}}"#"##;
    /// How much acid brings a water to a target, with the cautions.
    acid(AcidRequest) -> AcidResponse, "v1/acids",
        r##"r#"{"water": {"name": "tap", "ec_us_cm": 420}, "acid": "citric", "strength_percent": 99, "target": {"ph": 6}, "volume_l": 20}"#"##;
    /// Which concentrates may share a stock tank.
    tank(TankRequest) -> TankResponse, "v1/tanks",
        "&std::fs::read_to_string(\"request.json\")?";
    /// Dew point, wet bulb and vapour pressure deficit of moist air.
    air(AirRequest) -> AirReport, "v1/air", r##"r#"{"temp_c": 22, "rh_percent": 65}"#"##;
    /// How one film dries and what it leaves.
    film(FilmRequest) -> FilmReport, "v1/films",
        r##"r#"{"temp_c": 20, "rh_percent": 70, "composition": {"k_mmol_l": 1, "no3_mmol_l": 1}}"#"##;
    /// Sun, light and openings of one date.
    day(DayRequest) -> DayReport, "v1/days",
        r##"r#"{"latitude_deg": 38.5, "longitude_deg": -28.3, "time_zone": "Atlantic/Azores", "date": "2026-06-21"}"#"##;
    /// For each plant: feed, wait, water only or leave alone; when, how strong, and why.
    advise(AdviceRequest) -> AdviceResponse, "v1/advice", "&std::fs::read_to_string(\"request.json\")?";
    /// One bucket, the order of the plants and every mister fill.
    round(AdviceRequest) -> RoundResponse, "v1/rounds", "&std::fs::read_to_string(\"request.json\")?";
    /// The soaks of a rootless plant.
    rescue(RescueRequest) -> RescueResponse, "v1/rescues",
        "&std::fs::read_to_string(\"request.json\")?";
    /// The highest feed strength that leaves acceptable residue, by humidity and air movement.
    strength_chart(StrengthChartRequest) -> StrengthChartResponse, "v1/charts/strength",
        r##"r#"{"feed": {"name": "X", "guaranteed": {"n_percent": 13}}, "temp_c": 22}"#"##;
    /// The 24-hour ribbon of an area.
    day_ribbon(DayRibbonRequest) -> DayRibbonResponse, "v1/charts/day", "&std::fs::read_to_string(\"request.json\")?";
    /// When a plant opens its stomata, how sure that is, and who measured it.
    genus(GenusRequest) -> GenusResponse, "v1/taxa", r##"r#"{"query": "Cattleya labiata"}"#"##;
}

impl Client {
    /// Names that begin as the query does.
    ///
    /// # Errors
    /// [`ClientError`]; [`ClientError::Refused`] where the library refuses the request.
    ///
    /// ```no_run
    /// use guardcell::reference::SearchRequest;
    /// let client = guardcell_client::Client::new("http://127.0.0.1:8427")?;
    /// let found = client.search(&SearchRequest::new("cattl").with_limit(5))?;
    /// # Ok::<(), guardcell_client::ClientError>(())
    /// ```
    pub fn search(&self, request: &SearchRequest) -> Result<SearchResponse, ClientError> {
        let mut url = self.at("v1/taxa");
        {
            let mut query = url.query_pairs_mut();
            query.append_pair("query", &request.query);
            if let Some(limit) = request.limit {
                query.append_pair("limit", &limit.to_string());
            }
        }
        self.read_json(&url, || self.http.get(url.clone()))
    }

    /// Every name of the server's tables.
    ///
    /// # Errors
    /// [`ClientError`].
    ///
    /// ```no_run
    /// let client = guardcell_client::Client::new("http://127.0.0.1:8427")?;
    /// assert!(client.catalogue()?.names.len() > 1000);
    /// # Ok::<(), guardcell_client::ClientError>(())
    /// ```
    pub fn catalogue(&self) -> Result<CatalogueResponse, ClientError> {
        let url = self.at("v1/catalogue");
        self.read_json(&url, || self.http.get(url.clone()))
    }

    /// The server's trait table as Darwin Core measurements, CSV with a header.
    ///
    /// # Errors
    /// [`ClientError`].
    ///
    /// ```no_run
    /// let client = guardcell_client::Client::new("http://127.0.0.1:8427")?;
    /// assert!(client.measurements()?.starts_with("measurementID,scientificName"));
    /// # Ok::<(), guardcell_client::ClientError>(())
    /// ```
    pub fn measurements(&self) -> Result<String, ClientError> {
        let url = self.at("v1/measurements");
        let bytes = self.read(&url, "text/csv", || self.http.get(url.clone()))?;
        String::from_utf8(bytes).map_err(|_| not_guardcell(&url, "its table is not UTF-8".into()))
    }

    /// Whether a guardcell of this version answers.
    ///
    /// # Errors
    /// [`ClientError`].
    ///
    /// ```no_run
    /// guardcell_client::Client::new("http://127.0.0.1:8427")?.check()?;
    /// # Ok::<(), guardcell_client::ClientError>(())
    /// ```
    pub fn check(&self) -> Result<(), ClientError> {
        let url = self.at("readyz");
        self.read(&url, "text/plain", || self.http.get(url.clone())).map(drop)
    }
}
