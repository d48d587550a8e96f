//! Moist air, drying of a leaf film, salts that stay wet, uptake and residue
