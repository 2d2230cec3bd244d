//! Answers worked out once, on whichever thread asks first.

use std::sync::{Arc, Mutex, OnceLock, PoisonError};

/// Answers by question; whoever asks what is being worked out waits for it, and nobody else waits.
#[derive(Debug)]
pub(super) struct Memo<K, V> {
    asked: Mutex<Vec<(K, Arc<OnceLock<V>>)>>,
}

impl<K, V> Default for Memo<K, V> {
    fn default() -> Self {
        Self { asked: Mutex::default() }
    }
}

impl<K: PartialEq, V: Clone> Memo<K, V> {
    /// The answer to a question, from `work` where it is the first to ask.
    pub fn get(&self, question: K, work: impl FnOnce() -> V) -> V {
        let slot = {
            // A poisoned lock only means that another thread stopped: the answers it holds are whole.
            let mut asked = self.asked.lock().unwrap_or_else(PoisonError::into_inner);
            let known = asked.iter().find(|(k, _)| *k == question).map(|(_, slot)| slot.clone());
            known.unwrap_or_else(|| {
                let slot = Arc::new(OnceLock::new());
                asked.push((question, slot.clone()));
                slot
            })
        };
        slot.get_or_init(work).clone()
    }
}
