//! Readings of the air: data-logger files, JSON endpoints, OGC SensorThings.
