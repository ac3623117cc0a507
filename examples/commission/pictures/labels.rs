//! Labels beside the ends of curves: as near as they can be without touching.

/// Places for labels of this height, wanted at `wanted`, between `low` and `high`, in the order given. Where there is not
/// room for all they begin at `low` and go beyond `high`.
pub fn spread(wanted: &[i32], height: i32, (low, high): (i32, i32)) -> Vec<i32> {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    order.sort_by_key(|&index| wanted[index]);
    // Those that push each other make a block, around the mean of what they want.
    let mut blocks: Vec<(i64, i32)> = Vec::new();
    let last_start = |count: i32| (high - height * count).max(low);
    let start = |&(sum, count): &(i64, i32)| -> i32 {
        let mean = sum / i64::from(count);
        // What each wants, less its place in the block, was summed.
        (mean as i32).clamp(low, last_start(count))
    };
    for &index in &order {
        let mut block = (i64::from(wanted[index]), 1);
        while let Some(before) = blocks.last() {
            if start(before) + before.1 * height <= start(&block) {
                break;
            }
            let (sum, count) = *before;
            block = (sum + block.0 - i64::from(count * height) * i64::from(block.1), count + block.1);
            blocks.pop();
        }
        blocks.push(block);
    }
    let mut places = vec![0; wanted.len()];
    let mut next = order.iter();
    for block in &blocks {
        let first = start(block);
        for step in 0..block.1 {
            if let Some(&index) = next.next() {
                places[index] = first + step * height;
            }
        }
    }
    places
}

#[cfg(test)]
mod tests {
    use super::spread;

    #[test]
    fn labels_with_room_stay_where_they_are_wanted() {
        assert_eq!(spread(&[50, 10, 90], 10, (0, 100)), [50, 10, 90]);
    }

    #[test]
    fn labels_that_would_touch_are_pushed_apart_evenly() {
        assert_eq!(spread(&[50, 50], 10, (0, 100)), [45, 55]);
        assert_eq!(spread(&[52, 50, 48], 10, (0, 100)), [60, 50, 40]);
        assert_eq!(spread(&[0, 0, 95], 10, (0, 100)), [0, 10, 90]);
    }

    #[test]
    fn they_never_touch() {
        for seed in 0..200i32 {
            let wanted: Vec<i32> = (0..12).map(|k| (seed * 37 + k * k * 91) % 300).collect();
            let mut places = spread(&wanted, 20, (0, 300));
            places.sort_unstable();
            assert!(places.windows(2).all(|pair| pair[1] - pair[0] >= 20), "{places:?}");
            assert!(places[0] >= 0 && places[11] <= 280, "{places:?}");
        }
    }
}
