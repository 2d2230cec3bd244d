//! Lampwright compares a scale model's exterior lights with published full-size lighting requirements.
//!
//! It takes a model's declared lamps, raises them to the full-size craft they stand for, and says of every requirement
//! whether it is met, missed, or cannot be told: by how much, seen from where, by which paragraph, and what would mend
//! it. Full-size rules are a yardstick of realism here and nothing else: model aircraft are governed by the rules where
//! they are flown.
//!
//! ```
//! use lampwright::{Options, check, rule_sets_for, source::Memory};
//! use std::path::Path;
//!
//! let file = r#"
//! lampwright: aircraft 1
//! model: {title: Merlewood M20, scale: "1:8"}
//! prototype: {category: transport aeroplane, authority: US, applied: 1980}
//! lamps:
//!   belly: {light: beacon, emitter: red 1 W star, aim: down, flash: {rate: 46 per min, lit: 120 ms}}
//! "#;
//! let model = lampwright::aircraft::read(&Memory::new().with("m20.yaml", file.trim_start()), Path::new("m20.yaml"))??;
//! let report = check(&model, &rule_sets_for(&model.craft, None)?, &Options::default())?;
//! let rate = report.goals.iter().find(|g| g.id == "anti-collision-frequency/one source").expect("judged");
//! // 46 flashes a minute lie between 40 and 100 (14 CFR 25.1401(c)).
//! assert_eq!(rate.verdict, lampwright::judge::Verdict::Met);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! The way data goes: [`source`] reads files and knows places, [`rules`] and [`aircraft`] turn them into rule sets and
//! models, [`scene`] makes the lamps physics, [`resolve`] binds requirements to lamps, [`measure`] finds figures as
//! intervals, [`judge`] gives verdicts, [`report`] holds them and [`render`] writes them. The kernels [`geometry`],
//! [`colorimetry`], [`timing`] and [`photometry`] know nothing of rules and files.

pub mod aircraft;
mod check;
#[cfg(feature = "cli")]
pub mod cli;
pub mod colorimetry;
pub mod error;
pub mod geometry;
pub mod judge;
pub mod lint;
pub mod measure;
pub mod photometry;
pub mod render;
pub mod report;
pub mod resolve;
pub mod rules;
pub mod scene;
pub mod source;
mod spread;
pub mod timing;
pub mod units;

pub use check::{Options, bundled_heads, bundled_rule_sets, check, document, rule_sets_for};
