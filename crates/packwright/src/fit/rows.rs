//! Independent pieces of work on as many threads as the machine runs at once.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// No more than this: what is asked here is short work.
const MOST_THREADS: usize = 2;

/// Does every task and gives the results in the order of the tasks, whichever was done first.
pub(super) fn all<T: Sync, R: Send>(tasks: &[T], run: impl Fn(&T) -> R + Sync, done: impl Fn(usize) + Sync) -> Vec<R> {
    let threads = thread::available_parallelism().map_or(1, |n| n.get().min(MOST_THREADS));
    let (next, ready) = (AtomicUsize::new(0), AtomicUsize::new(0));
    let work = || {
        let mut results = Vec::new();
        while let Some((index, task)) = {
            let index = next.fetch_add(1, Ordering::Relaxed);
            tasks.get(index).map(|task| (index, task))
        } {
            results.push((index, run(task)));
            done(ready.fetch_add(1, Ordering::Relaxed) + 1);
        }
        results
    };
    let mut results: Vec<(usize, R)> = thread::scope(|scope| {
        let others: Vec<_> = (1..threads).map(|_| scope.spawn(work)).collect();
        let mut results = work();
        for other in others {
            match other.join() {
                Ok(more) => results.extend(more),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
        results
    });
    results.sort_by_key(|(index, _)| *index);
    results.into_iter().map(|(_, result)| result).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_task_is_done_once_and_in_its_place() {
        let tasks: Vec<usize> = (0..100).collect();
        let told = AtomicUsize::new(0);
        let done = |n: usize| {
            told.fetch_max(n, Ordering::Relaxed);
        };
        let results = all(&tasks, |n| n * n, done);
        assert_eq!(results, tasks.iter().map(|n| n * n).collect::<Vec<_>>());
        assert_eq!(told.into_inner(), 100);
        assert_eq!(all(&[] as &[u8], |n| *n, |_| ()), Vec::<u8>::new());
    }
}
