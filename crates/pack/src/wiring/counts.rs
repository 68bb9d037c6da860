//! How many links a pack takes.

/// Links by kind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LinkCounts {
    /// Series links inside each box.
    pub in_box: Vec<u32>,
    /// Cables from box to box.
    pub between_boxes: u32,
    /// Joins in series in all.
    pub series_joins: u32,
    /// Short links from like to like.
    pub parallel_links: u32,
    /// Terminals through the walls: two for each box.
    pub box_terminals: u32,
}

/// Links of a chain of groups that fills one box after the other, with so many groups in each and so many modules in a
/// group.
pub fn link_counts(groups_per_box: &[u32], modules_parallel: u32) -> LinkCounts {
    let groups: u32 = groups_per_box.iter().sum();
    let boxes = u32::try_from(groups_per_box.iter().filter(|g| **g > 0).count()).unwrap_or(u32::MAX);
    LinkCounts {
        in_box: groups_per_box.iter().map(|g| g.saturating_sub(1)).collect(),
        between_boxes: boxes.saturating_sub(1),
        series_joins: groups.saturating_sub(1),
        parallel_links: groups * 2 * modules_parallel.saturating_sub(1),
        box_terminals: 2 * boxes,
    }
}
