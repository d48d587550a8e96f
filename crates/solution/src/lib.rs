//! Labels, water reports, recipes, speciation and conductivity of feed solutions
