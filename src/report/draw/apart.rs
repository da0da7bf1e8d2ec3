//! Labels beside what they name, none over another.

/// Places in rising order that are at least `gap` apart and lie between two ends, as
/// near to those that are wanted, also in rising order, as can be in the sense of least
/// squares. Where not all have room they start at the low end and leave at the high one.
pub(super) fn apart(wanted: &[f64], gap: f64, (low, high): (f64, f64)) -> Vec<f64> {
    // Without the gaps only the order has to be kept: neighbours in the wrong order
    // share their mean (pool adjacent violators; from memory, no source at hand).
    let mut pools: Vec<(f64, usize)> = Vec::new();
    for (index, wanted) in wanted.iter().enumerate() {
        let mut pool = (wanted - gap * index as f64, 1);
        while let Some(&(before, count)) = pools.last()
            && before > pool.0
        {
            pools.pop();
            let all = count + pool.1;
            pool = (
                (before * count as f64 + pool.0 * pool.1 as f64) / all as f64,
                all,
            );
        }
        pools.push(pool);
    }
    let most = (high - gap * wanted.len().saturating_sub(1) as f64).max(low);
    let free = pools
        .into_iter()
        .flat_map(|(place, count)| std::iter::repeat_n(place.clamp(low, most), count));
    free.enumerate()
        .map(|(index, place)| place + gap * index as f64)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_never_overlap_and_stay_within() {
        for wanted in [
            vec![10.0, 10.0, 10.0],
            vec![-50.0, 3.0, 4.0, 90.0, 400.0],
            (0..12).map(|at| 50.0 + 0.1 * f64::from(at)).collect(),
            vec![99.0; 7],
        ] {
            let places = apart(&wanted, 13.0, (0.0, 170.0));
            assert_eq!(places.len(), wanted.len());
            assert!(
                places
                    .windows(2)
                    .all(|pair| pair[1] - pair[0] > 13.0 - 1e-9),
                "{places:?}"
            );
            assert!(
                places.iter().all(|place| (0.0..=170.0).contains(place)),
                "{places:?}"
            );
        }
    }

    #[test]
    fn labels_with_room_stand_where_they_are_wanted() {
        assert_eq!(
            apart(&[5.0, 40.0, 90.0], 13.0, (0.0, 100.0)),
            [5.0, 40.0, 90.0]
        );
        // Two that collide give way by half each.
        assert_eq!(apart(&[50.0, 52.0], 12.0, (0.0, 100.0)), [45.0, 57.0]);
        assert!(apart(&[], 12.0, (0.0, 1.0)).is_empty());
    }
}
