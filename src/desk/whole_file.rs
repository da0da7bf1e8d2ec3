//! Files written whole or not at all, and on the disk before anybody is told.

use std::fs::{File, Permissions};
use std::io::{self, Write};
use std::path::Path;

use tempfile::Builder;

/// Whether a file may take the place of another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Existing {
    Replace,
    Refuse,
}

/// Writes a file: its bytes reach the disk under another name first, so that whenever the
/// machine stops, the old file or the new one is there.
pub(super) fn write(path: &Path, bytes: &[u8], existing: Existing) -> io::Result<()> {
    let folder = path.parent().ok_or(io::ErrorKind::InvalidInput)?;
    let mut builder = Builder::new();
    builder.prefix(".ringrule-");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(Permissions::from_mode(0o666));
    }
    let mut file = builder.tempfile_in(folder)?;
    file.write_all(bytes)?;
    if let (Existing::Replace, Ok(before)) = (existing, std::fs::metadata(path)) {
        let _ = std::fs::set_permissions(file.path(), before.permissions());
    }
    file.as_file().sync_all()?;
    match existing {
        Existing::Replace => file.persist(path)?,
        Existing::Refuse => file.persist_noclobber(path)?,
    };
    // The name too, where the system can say so.
    if let Ok(folder) = File::open(folder) {
        let _ = folder.sync_all();
    }
    Ok(())
}
