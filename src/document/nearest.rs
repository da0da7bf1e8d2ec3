//! Did you mean?

/// The nearest known name, then all of them: a remedy for a word that is not
/// known.
pub fn nearest(name: &str, known: &[&str]) -> String {
    let listed = known.join(", ");
    let scored = known.iter().map(|&candidate| {
        let closeness = strsim::jaro_winkler(&name.to_lowercase(), candidate);
        (candidate, closeness)
    });
    match scored.max_by(|a, b| a.1.total_cmp(&b.1)) {
        Some((nearest, closeness)) if closeness > 0.75 => {
            format!("did you mean `{nearest}`? Known here: {listed}")
        }
        _ => format!("known here: {listed}"),
    }
}
