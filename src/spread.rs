//! Work on several threads, its results in the order of its items.

use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

/// More threads than this do not pay for work that takes milliseconds.
const MOST_THREADS: usize = 8;

/// What `f` makes of each item, in their order; where no thread can be started the caller's own does all of it.
pub(crate) fn spread<T: Sync, R: Send>(items: &[T], f: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let threads = std::thread::available_parallelism().map_or(1, usize::from).min(MOST_THREADS);
    spread_over(threads, items, f)
}

/// The same on so many threads.
fn spread_over<T: Sync, R: Send>(threads: usize, items: &[T], f: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let next = AtomicUsize::new(0);
    let done: Mutex<Vec<(usize, R)>> = Mutex::new(Vec::with_capacity(items.len()));
    let work = || {
        let from_both_ends = |k: usize| if k.is_multiple_of(2) { k / 2 } else { items.len() - 1 - k / 2 };
        // Neighbours often want the same thing worked out: taken far apart in time, neither waits for the other.
        let take = || Some(next.fetch_add(1, Ordering::Relaxed)).filter(|k| *k < items.len()).map(from_both_ends);
        while let Some((n, item)) = take().and_then(|n| Some((n, items.get(n)?))) {
            let result = f(item);
            // Only a panic of `f` poisons the lock, and that one unwinds through the scope all the same.
            done.lock().unwrap_or_else(std::sync::PoisonError::into_inner).push((n, result));
        }
    };
    std::thread::scope(|scope| {
        for _ in 1..threads.min(items.len()) {
            if std::thread::Builder::new().spawn_scoped(scope, work).is_err() {
                break;
            }
        }
        work();
    });
    let mut done = done.into_inner().unwrap_or_else(std::sync::PoisonError::into_inner);
    done.sort_by_key(|(n, _)| *n);
    done.into_iter().map(|(_, result)| result).collect()
}

#[cfg(test)]
mod tests {
    use super::{spread, spread_over};

    #[test]
    fn results_keep_the_order_of_their_items() {
        let items: Vec<u64> = (0..1000).collect();
        assert_eq!(spread(&items, |n| n * n), items.iter().map(|n| n * n).collect::<Vec<_>>());
        assert!(spread(&[] as &[u8], |n| *n).is_empty());
    }

    #[test]
    fn one_thread_and_many_give_the_same() {
        let items: Vec<u64> = (0..1000).collect();
        let alone = spread_over(1, &items, |n| n * n + 1);
        for threads in 2..9 {
            assert_eq!(spread_over(threads, &items, |n| n * n + 1), alone, "{threads}");
        }
    }
}
