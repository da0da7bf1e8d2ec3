//! The desk's pages: they show and ask, and judge nothing.

pub(super) mod begin;
pub(super) mod boards;
pub(super) mod compare;
mod frame;
pub(super) mod look;
pub(super) mod measure;
pub(super) mod report;
pub(super) mod saving;
pub(super) mod trouble;
