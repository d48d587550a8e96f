//! Arguments of `pair`.

use clap::Args;

/// Pair a phone or another device with your folder: print a code that works once, for ten minutes.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  guardcell pair --address https://greenhouse.local:8427
  guardcell pair --list
  guardcell pair --revoke \"kitchen phone\"

The device opens the page of `guardcell serve` and gives the code; or it reads the QR, which holds
the address and the code. A new code replaces the one before. A paired device reads the folder and
reads and writes its journal until it is revoked.")]
pub(crate) struct Pair {
    /// The address of the server as the device reaches it; it goes into the QR.
    #[arg(long, value_name = "URL", conflicts_with_all = ["list", "revoke"])]
    pub(crate) address: Option<String>,
    /// What the device will be called; without it the device says.
    #[arg(long, conflicts_with_all = ["list", "revoke"])]
    pub(crate) name: Option<String>,
    /// Show the paired devices: name, when paired, when last seen.
    #[arg(long, conflicts_with = "revoke")]
    pub(crate) list: bool,
    /// Take the token of this device away, at once.
    #[arg(long, value_name = "NAME")]
    pub(crate) revoke: Option<String>,
}
