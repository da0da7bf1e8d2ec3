//! Three equations with a symmetric positive matrix.

/// Three numbers.
pub(super) type Three = [f64; 3];
/// Three rows of three.
pub(super) type ThreeByThree = [Three; 3];

/// The inverse of a symmetric positive definite matrix by its cofactors.
/// `None` where it is not definite beyond what rounding leaves.
pub(super) fn inverse(m: &ThreeByThree) -> Option<ThreeByThree> {
    let [[a, b, c], [_, d, e], [_, _, f]] = *m;
    let (aa, bb, cc) = (d * f - e * e, c * e - b * f, b * e - c * d);
    let determinant = a * aa + b * bb + c * cc;
    // House rule: a matrix worse than this has no digit left of its inverse.
    if !(a > 0.0 && d > 0.0 && f > 0.0 && determinant > 1e-14 * a * d * f) {
        return None;
    }
    let (dd, ee, ff) = (a * f - c * c, b * c - a * e, a * d - b * b);
    let inverse = [[aa, bb, cc], [bb, dd, ee], [cc, ee, ff]];
    Some(inverse.map(|row| row.map(|cofactor| cofactor / determinant)))
}

/// The product with a column.
pub(super) fn times(m: &ThreeByThree, column: &Three) -> Three {
    m.map(|row| row.iter().zip(column).map(|(a, b)| a * b).sum())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_inverse_undoes_its_matrix() {
        let m = [[4.0, 1.0, -2.0], [1.0, 5.0, 0.5], [-2.0, 0.5, 3.0]];
        let inverse = inverse(&m).expect("definite");
        for (row, column) in m.iter().enumerate() {
            let product = times(&inverse, column);
            for (index, value) in product.iter().enumerate() {
                let expected = if index == row { 1.0 } else { 0.0 };
                assert!((value - expected).abs() < 1e-14, "{product:?}");
            }
        }
    }

    #[test]
    fn a_matrix_without_rank_has_none() {
        assert_eq!(inverse(&[[1.0; 3]; 3]), None);
        assert_eq!(inverse(&[[0.0; 3]; 3]), None);
        assert_eq!(inverse(&[[f64::NAN; 3]; 3]), None);
    }
}
