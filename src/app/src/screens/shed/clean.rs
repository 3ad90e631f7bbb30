//! What a form changed: only that is recorded, so that two people editing different fields of one thing do not undo each other.

/// The new value where it differs from the old one.
pub(super) fn changed<T: PartialEq>(new: T, old: Option<&T>) -> Option<T> {
    (old != Some(&new)).then_some(new)
}

/// The new value where there is one and it differs from the old one. What is set cannot be unset.
pub(super) fn changed_if_any<T: PartialEq>(new: Option<T>, old: Option<&T>) -> Option<T> {
    new.and_then(|new| changed(new, old))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_differs_is_recorded() {
        assert_eq!(changed(1, Some(&1)), None);
        assert_eq!(changed(2, Some(&1)), Some(2));
        assert_eq!(changed(2, None), Some(2));
        assert_eq!(changed_if_any(None::<i32>, Some(&1)), None);
        assert_eq!(changed_if_any(Some(1), Some(&1)), None);
        assert_eq!(changed_if_any(Some(3), None), Some(3));
    }
}
