//! The safe-strength chart as SVG.

use super::strength::{MOVEMENT, StrengthCell, StrengthChartResponse};
use crate::svg::Svg;

const LEFT: f64 = 90.0;
const TOP: f64 = 96.0;
const CELL: (f64, f64) = (104.0, 36.0);

impl StrengthChartResponse {
    /// The chart as SVG: a number in every cell, darker the stronger, hatched where nothing is
    /// acceptable; a heavy outline round 300 mg/L and more.
    #[must_use]
    pub fn svg(&self) -> String {
        let rows = Self::humidities().count() as f64;
        let columns = self.air.len() as f64;
        let size = (LEFT + columns * CELL.0 + 24.0, TOP + rows * CELL.1 + 28.0 + 16.0 * 4.0);
        let mut svg = Svg::new(size.0, size.1);
        svg.text(
            (16.0, 26.0),
            r#"font-size="17" font-weight="bold""#,
            &format!("Safe feed strength: {}, {} °C", self.product, self.temp_c),
        );
        svg.text(
            (16.0, 46.0),
            r##"fill="#333""##,
            &format!(
                "mg/L in one pass, when the leaf is dry, what has entered; residue at most {:.0} % probable",
                self.tolerance * 100.0
            ),
        );
        for (i, column) in self.air.iter().enumerate() {
            let x = LEFT + (i as f64 + 0.5) * CELL.0;
            svg.text(
                (x, TOP - 24.0),
                r#"text-anchor="middle" font-weight="bold""#,
                column.word.name(),
            );
            svg.text(
                (x, TOP - 8.0),
                r##"text-anchor="middle" font-size="11" fill="#333""##,
                &format!("{} m/s", column.m_s),
            );
        }
        for (j, rh) in Self::humidities().enumerate() {
            let y = TOP + j as f64 * CELL.1;
            svg.text((LEFT - 10.0, y + 23.0), r#"text-anchor="end""#, &format!("{rh:.0} % RH"));
            for (i, column) in self.air.iter().enumerate() {
                let at = (LEFT + i as f64 * CELL.0, y);
                if let Some(cell) = self.cell(rh, column.word) {
                    self.draw(&mut svg, at, cell);
                }
            }
        }
        let legend = "Heavy outline: 300 mg/L or more. Hatched: even the water leaves too much. \
                      Steady air.";
        for (i, line) in std::iter::once(legend).chain(MOVEMENT).enumerate() {
            let y = size.1 - 66.0 + 16.0 * i as f64;
            svg.text((16.0, y), r##"font-size="11" fill="#333""##, line);
        }
        svg.finish("Safe feed strength", &self.description.join(" "))
    }

    fn draw(&self, svg: &mut Svg, at: (f64, f64), cell: &StrengthCell) {
        let strength = cell.strength_mg_l;
        if strength <= 0.0 {
            svg.rect(at, CELL, r##"fill="url(#hatch)" stroke="#888""##);
            let label = (at.0 + CELL.0 / 2.0 - 34.0, at.1 + 4.0);
            svg.rect(label, (68.0, 28.0), r##"fill="#fff""##);
        } else {
            // From near white to a mid grey, so that black figures stay readable.
            let shade = 245.0 - 110.0 * (strength / self.most_mg_l).min(1.0);
            let shade = shade.round();
            svg.rect(at, CELL, &format!(r##"fill="rgb({shade},{shade},{shade})" stroke="#888""##));
        }
        if strength >= guardcell_reference::parameters::practice::STRENGTH_ESTABLISHED.mg_per_l() {
            let inner = (at.0 + 1.5, at.1 + 1.5);
            svg.rect(
                inner,
                (CELL.0 - 3.0, CELL.1 - 3.0),
                r##"fill="none" stroke="#000" stroke-width="2.5""##,
            );
        }
        let text = if strength > 0.0 { format!("{strength:.0}") } else { "none".into() };
        let middle = at.0 + CELL.0 / 2.0;
        svg.text((middle, at.1 + 17.0), r#"text-anchor="middle" font-size="14""#, &text);
        let taken = cell.share_taken_up * 100.0;
        let dries = match cell.dry_minutes {
            _ if strength <= 0.0 => String::new(),
            None => format!("stays wet; {taken:.1} %"),
            Some(m) if m < 90.0 => format!("{m:.0} min; {taken:.1} %"),
            Some(m) => format!("{:.1} h; {taken:.1} %", m / 60.0),
        };
        svg.text(
            (middle, at.1 + 30.0),
            r##"text-anchor="middle" font-size="10" fill="#222""##,
            &dries,
        );
    }
}
