//! Explained advice for feeding through the leaf: advise, round, rescue
