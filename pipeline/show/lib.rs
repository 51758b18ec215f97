//! What people see of a bundle: the page on which it is looked over, and the pictures of its listing. Both are made of the
//! finished files.

pub mod pictures;
pub mod proof;
