//! Calls a remote guardcell with the same types.
