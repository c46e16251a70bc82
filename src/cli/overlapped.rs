//! Work that keeps processors busy while what it made is still on its way to the disk.

use rayon::prelude::*;
use std::sync::Mutex;
use std::sync::mpsc::sync_channel;
use std::thread;

/// Threads that wait for the disk.
const WRITERS: usize = 4;

/// What may wait to be written: enough that no processor waits, few enough to stay small.
const WAITING: usize = 16;

/// Makes something of each input on all processors and finishes it on other threads, which mostly
/// wait for the disk. Outcomes come in the order of the inputs.
pub(super) fn overlapped<I: Sync, P: Send, O: Send>(
    inputs: &[I],
    make: impl Fn(usize, &I) -> Result<P, O> + Sync,
    finish: impl Fn(P) -> O + Sync,
) -> Vec<O> {
    if let [input] = inputs {
        return vec![make(0, input).map_or_else(|outcome| outcome, &finish)];
    }
    let slots: Vec<Mutex<Option<O>>> = inputs.iter().map(|_| Mutex::new(None)).collect();
    let put = |at: usize, outcome: O| {
        if let Some(Ok(mut slot)) = slots.get(at).map(Mutex::lock) {
            *slot = Some(outcome);
        }
    };
    let (send, receive) = sync_channel::<(usize, P)>(WAITING);
    let receive = Mutex::new(receive);
    thread::scope(|scope| {
        for _ in 0..WRITERS.min(inputs.len()) {
            scope.spawn(|| {
                let next = || receive.lock().ok()?.recv().ok();
                while let Some((at, product)) = next() {
                    put(at, finish(product));
                }
            });
        }
        let all = inputs.par_iter().enumerate();
        all.for_each_with(send, |send, (at, input)| match make(at, input) {
            // Writers live until every sender is gone.
            Ok(product) => drop(send.send((at, product))),
            Err(outcome) => put(at, outcome),
        });
    });
    let filled = slots.into_iter().map(|slot| slot.into_inner().ok()?);
    filled.collect::<Option<Vec<O>>>().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::overlapped;

    #[test]
    fn outcomes_come_in_order_whichever_is_done_first() {
        for count in [0, 1, 2, 500] {
            let inputs: Vec<usize> = (0..count).collect();
            let outcomes = overlapped(
                &inputs,
                |at, input| {
                    assert_eq!(at, *input);
                    if input % 7 == 3 {
                        Err(format!("{input} fails"))
                    } else {
                        Ok(*input)
                    }
                },
                |made| format!("{made} is written"),
            );
            let should: Vec<String> = inputs
                .iter()
                .map(|input| match input % 7 {
                    3 => format!("{input} fails"),
                    _ => format!("{input} is written"),
                })
                .collect();
            assert_eq!(outcomes, should);
        }
    }
}
