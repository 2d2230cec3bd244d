//! What an entrant says of an entry for a competition.

/// An entry; every word is the entrant's own.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Entry {
    /// The entrant's number.
    pub number: Option<String>,
    /// The entrant.
    pub entrant: Option<String>,
    /// The competition class.
    pub class: Option<String>,
    /// The event.
    pub event: Option<String>,
    /// The date of the event.
    pub date: Option<String>,
    /// The individual craft shown: its type, and its serial or registration.
    pub individual: Option<String>,
    /// How the model differs from the craft shown: what differs, and the entrant's words for how and why.
    pub differences: Vec<(String, String)>,
}
