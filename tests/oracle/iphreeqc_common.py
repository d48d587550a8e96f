"""Calls the geochemical reference (IPhreeqc with its phreeqc.dat) that the PyPI package pyEQL bundles."""

import hashlib
import importlib.metadata
from importlib import resources

from pyEQL.phreeqc import Phreeqc
from pyEQL.phreeqc.var import Var

# Two phases of feed solutions are not in phreeqc.dat; their solubility products are those of
# data/phases.csv, so that the comparison is of the activities, not of the constants.
PHASES = """
PHASES
Brushite
    CaHPO4:2H2O = Ca+2 + HPO4-2 + 2 H2O
    -analytical_expression 18.180870 -0.042031020 -3649.5943
Struvite
    MgNH4PO4:6H2O = Mg+2 + NH4+ + PO4-3 + 6 H2O
    -log_k -13.26
    -delta_h 24.23 kJ
"""

TOTALS = {
    "ca": "Ca",
    "mg": "Mg",
    "k": "K",
    "na": "Na",
    "nh4": "N(-3)",
    "no3": "N(5)",
    "p": "P",
    "so4": "S(6)",
    "cl": "Cl",
    "dic": "C(4)",
}
SOLUTES = [*TOTALS, "urea"]


class Reference:
    """One instance of the reference, with the two added phases where the database has phosphate."""

    def __init__(self, database: str = "phreeqc.dat", added: bool = True) -> None:
        self._ext = Phreeqc(database)._ext
        if added:
            self._ext.run_string(PHASES)

    def punch(self, text: str, columns: str) -> list[list]:
        """Runs an input and returns what USER_PUNCH printed, a row for each SOLUTION or mix."""
        self._ext.run_string(
            "SELECTED_OUTPUT\n    -reset false\nUSER_PUNCH\n    -headings x\n"
            f"    10 PUNCH {columns}\n" + text
        )
        value, rows = Var(), []
        for r in range(1, self._ext.get_selected_output_row_count()):
            row = []
            for c in range(self._ext.get_selected_output_column_count()):
                self._ext.get_value(r, c, value._var.var)
                row.append(value.value)
            rows.append(row)
        return rows


def solution(totals, temp_c=25.0, ph=None, units="mmol/L", log_co2=None):
    """The input block of one solution; without `ph` the pH follows from the charge balance."""
    lines = ["SOLUTION 1", f"    units {units}", f"    temp {temp_c!r}"]
    if units == "mmol/L":
        lines.append("    density 1.0 calculate")
    lines.append("    pH 7 charge" if ph is None else f"    pH {ph!r}")
    for key, name in TOTALS.items():
        if key == "dic" and log_co2 is not None:
            lines.append(f"    C(4) 1 CO2(g) {log_co2!r}")  # at rest with air of this log10 atm
        elif totals.get(key, 0.0) > 0.0:
            lines.append(f"    {name} {totals[key]!r}")
    # Urea carries no charge and is not a species of the reference: it is left out.
    return "\n".join(lines) + "\nEND\n"


def stamp(database: str = "phreeqc.dat") -> str:
    """The versions for the header of a table."""
    data = (resources.files("pyEQL.phreeqc.database") / database).read_bytes()
    created = next((x for x in data.decode("latin-1").splitlines() if "Created" in x), "")
    return (
        f"IPhreeqc {importlib.metadata.version('pyEQL')} (PyPI pyEQL) engine 3.8.6-17100; {database} "
        f"{created.lstrip('# ')}, sha256 {hashlib.sha256(data).hexdigest()[:16]}"
    )
