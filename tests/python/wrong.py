"""mypy --strict must find a fault in each line that ends with a mark."""

from guardcell import air, convert, genus, models

convert(120, to="ppm P")  # wrong: a quantity is a text
convert("120 ppm P2O5", onto="ppm P")  # wrong: no such field
genus("Cattleya", leaf="thikc")  # wrong: no such word
models.Window(from_="05:00")  # wrong: `to` is missing
air(25, 50).dew_point  # wrong: the unit belongs to the name
