//! What a build says of itself while it works: the stage, and the things that are done in it.

/// Something that happened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step<'a> {
    /// A stage begins, with so many things to do; 0 where nobody counts them.
    Stage(&'static str, usize),
    /// A thing of the stage is done; things that are made side by side are told in any order.
    Done(&'a str),
}

/// Is told of every step, from any thread.
pub type Progress = Box<dyn Fn(Step) + Send + Sync>;

/// Tells nobody.
pub fn silent() -> Progress {
    Box::new(|_| {})
}
