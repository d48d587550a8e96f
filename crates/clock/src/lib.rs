//! Sun and lamps, when stomata are open, nights that stay wet
