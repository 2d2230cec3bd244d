//! What names in a rule set stand for: tables, colours and readings, its own and those of the shared files it uses.

use super::bundled::shared_names;
use super::corners;
use super::declared::{ColourDecl, Over, RequirementDecl, SharedFile, TableDecl};
use super::figure::{Figure, Unit};
use super::load::SharedFiles;
use super::set::{NamedColour, Reading, Row, Table};
use crate::colorimetry::{Condition, Region as ColourRegion};
use crate::source::{Code, Decode, Located, Named, Sink, Text, header, nearest, one_of, parse};
use std::collections::{BTreeMap, BTreeSet};

/// What names in a rule set stand for.
#[derive(Default)]
pub(super) struct Names {
    pub(super) tables: BTreeMap<String, Located<Table>>,
    pub(super) colours: BTreeMap<String, Located<NamedColour>>,
    pub(super) readings: BTreeMap<String, Reading>,
    /// Which angle the rows of each table run over.
    pub(super) over: BTreeMap<String, Over>,
    /// Names whose definition is wrong and was told: using them is no second mistake.
    pub(super) told: BTreeSet<String>,
    /// The shared files read, and the requirements of each.
    files: BTreeSet<String>,
    pub(super) requirements: BTreeMap<String, Vec<RequirementDecl>>,
}

impl Names {
    pub(super) fn add_shared(&mut self, name: &Located<Text>, shared: SharedFiles<'_>, sink: &mut Sink) {
        let file = format!("rules/shared/{}.yaml", name.0);
        let Some(text) = shared(&name.0) else {
            sink.say(
                Code::UnknownName,
                &name.at,
                format!("there are no shared rules called `{}`", name.0),
                nearest(&name.0, shared_names()).map_or_else(
                    || format!("the program brings {}", one_of(&shared_names().collect::<Vec<_>>())),
                    |near| format!("did you mean `{near}`?"),
                ),
            );
            return;
        };
        if self.files.insert(name.0.clone()) {
            let declared = parse(&file, text, sink).and_then(|node| {
                header(&node, "shared rules", sink)?;
                SharedFile::decode(&node, sink)
            });
            if let Some(declared) = declared {
                declared.uses.iter().for_each(|used| self.add_shared(used, shared, sink));
                self.add(&declared.tables, &declared.colours, &declared.readings, sink);
                self.requirements.insert(name.0.clone(), declared.requirements);
            }
        }
    }

    pub(super) fn add(
        &mut self,
        tables: &Named<TableDecl>,
        colours: &Named<ColourDecl>,
        readings: &Named<Figure>,
        sink: &mut Sink,
    ) {
        self.told.extend(tables.1.iter().chain(&colours.1).cloned());
        self.over.extend(tables.0.iter().map(|(name, declared)| (name.value.clone(), declared.over.value)));
        for (name, declared) in &tables.0 {
            match table(&name.value, declared, sink) {
                Some(table) => {
                    self.tables.insert(name.value.clone(), Located { value: table, at: name.at.clone() });
                }
                None => {
                    self.told.insert(name.value.clone());
                }
            }
        }
        for (name, declared) in &colours.0 {
            match colour(&name.value, declared, sink) {
                Some(colour) => {
                    self.colours.insert(name.value.clone(), Located { value: colour, at: name.at.clone() });
                }
                None => {
                    self.told.insert(name.value.clone());
                }
            }
        }
        for (name, figure) in &readings.0 {
            self.readings.insert(name.value.clone(), Reading { figure: figure.clone(), at: name.at.clone() });
        }
    }
}

fn table(name: &str, declared: &TableDecl, sink: &mut Sink) -> Option<Table> {
    if declared.rows.is_empty() {
        let instead = "write a row like `{from: 0 deg, to: 110 deg, is: 5 cd}`";
        sink.say(Code::WrongShape, &declared.rows.at, "this table has no rows", instead);
        return None;
    }
    let rows: Vec<Row> = declared
        .rows
        .iter()
        .map(|r| Row { from_deg: rounded(r.from.deg()), to_deg: rounded(r.to.deg()), is: r.is.value.clone() })
        .collect();
    let mut sound = true;
    for (row, declared) in rows.iter().zip(declared.rows.iter()) {
        let figure = row.is.scalar;
        if !matches!(figure.unit, Unit::Candela | Unit::Candle | Unit::Times) || figure.value <= 0.0 {
            let message = format!("a row of a table cannot be `{figure}`");
            sink.say(Code::WrongValue, &declared.is.at, message, "write it like `40 cd`, `40 candles` or `0.90 times`");
            sound = false;
        }
        if row.from_deg > row.to_deg {
            sink.say(Code::OutOfRange, &declared.from.at, "this row runs backwards", "write the smaller angle first");
            sound = false;
        }
    }
    for (pair, declared) in rows.windows(2).zip(declared.rows.iter().skip(1)) {
        if let [a, b] = pair
            && a.to_deg != b.from_deg
        {
            let message = format!("the row before ends at {} deg and this one starts at {} deg", a.to_deg, b.from_deg);
            sink.say(Code::Contradiction, &declared.from.at, message, "let each row start where the one before ends");
            sound = false;
        }
    }
    sound.then(|| Table { name: name.into(), cite: declared.cite.0.clone(), rows })
}

/// Degrees that went through radians come back a rounding error off; tables are in whole parts of a degree.
pub(super) fn rounded(degrees: f64) -> f64 {
    (degrees * 1e9).round() / 1e9
}

fn colour(name: &str, declared: &ColourDecl, sink: &mut Sink) -> Option<NamedColour> {
    let mut conditions = Vec::new();
    if !declared.corners.is_empty() {
        conditions = corners::conditions(declared, sink)?;
    } else if declared.conditions.is_empty() {
        let instead = "write `conditions:` or `corners:`";
        sink.say(Code::MissingKey, &declared.cite.at, format!("the colour `{name}` has no limits"), instead);
        return None;
    }
    let of_corners = conditions.len();
    for text in &declared.conditions {
        match text.0.parse::<Condition>() {
            Ok(condition) => conditions.push(condition),
            Err(error) => {
                let source = sink.sources.text(&text.at.file).unwrap_or_default();
                let at = text.at.inside(source, &text.0, error.offset);
                sink.say(Code::WrongValue, &at, error.what, error.instead);
            }
        }
    }
    (conditions.len() == of_corners + declared.conditions.len()).then(|| NamedColour {
        name: name.into(),
        cite: declared.cite.0.clone(),
        region: ColourRegion::new(name, conditions),
    })
}

/// What a name stands for, or says that nothing does.
pub(super) fn find<'n, T>(
    names: &'n BTreeMap<String, Located<T>>,
    told: &BTreeSet<String>,
    name: &Located<Text>,
    what: &str,
    sink: &mut Sink,
) -> Option<&'n T> {
    let found = names.get(&name.0);
    if found.is_none() && !told.contains(&name.0) {
        let instead = nearest(&name.0, names.keys().map(String::as_str)).map_or_else(
            || format!("define a {what} of that name, or use one"),
            |near| format!("did you mean `{near}`?"),
        );
        sink.say(Code::UnknownName, &name.at, format!("there is no {what} called `{}`", name.0), instead);
    }
    found.map(|f| &f.value)
}
