//! The typeface of everything that we draw letters for ourselves.

use std::sync::{Arc, LazyLock};

use resvg::usvg::fontdb::{Database, Source};

/// `DejaVu` Sans Condensed, regular.
pub(super) const REGULAR: &[u8] = include_bytes!("fonts/DejaVuSansCondensed.ttf");
/// `DejaVu` Sans Condensed, bold.
pub(super) const BOLD: &[u8] = include_bytes!("fonts/DejaVuSansCondensed-Bold.ttf");

/// Our own fonts and no others, as drawings find them: a picture is the same on
/// every machine.
pub(super) fn database() -> Arc<Database> {
    static FONTS: LazyLock<Arc<Database>> = LazyLock::new(|| {
        let mut fonts = Database::new();
        for data in [REGULAR, BOLD] {
            fonts.load_font_source(Source::Binary(Arc::new(data)));
        }
        let family = fonts.faces().next().and_then(|face| face.families.first());
        if let Some((family, _)) = family.cloned() {
            fonts.set_sans_serif_family(family.clone());
            fonts.set_serif_family(family.clone());
            fonts.set_monospace_family(family);
        }
        Arc::new(fonts)
    });
    Arc::clone(&FONTS)
}
