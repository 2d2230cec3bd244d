//! From a rule-set file to a rule set: names replaced, candles turned into candela, shapes checked.

use super::basis::{InForce, When};
use super::candle::Candle;
use super::declared::*;
use super::figure::{Figure, Unit};
use super::names::{Names, find, rounded};
use super::set::*;
use super::taken;
use crate::geometry::{AzimuthSpan, Patch};
use crate::source::{At, Code, Decode, Diagnostic, Located, Rejected, Sink, Text, header, parse};
use crate::units::Interval;
use std::collections::BTreeMap;

/// Gives the text of a shared file by its name.
pub type SharedFiles<'a> = &'a dyn Fn(&str) -> Option<&'a str>;

/// Reads a rule set from text.
///
/// # Errors
/// Everything that is wrong in the file, or in a shared file it uses.
pub fn read(file: &str, text: &str, shared: SharedFiles<'_>) -> Result<RuleSet, Rejected> {
    let mut sink = Sink::new();
    let set = parse(file, text, &mut sink).and_then(|node| {
        header(&node, "rules", &mut sink)?;
        let declared = RuleSetFile::decode(&node, &mut sink)?;
        let at = node.at().clone();
        build(declared, at, shared, &mut sink)
    });
    sink.finish(set)
}

/// Reads what a rule set says of itself and nothing else: its first keys, up to the first that is no part of the head.
///
/// # Errors
/// Everything that is wrong in the head.
pub fn read_head(file: &str, text: &str) -> Result<RuleHead, Rejected> {
    let mut sink = Sink::new();
    let head = parse(file, head_of(text), &mut sink).and_then(|node| {
        header(&node, "rules", &mut sink)?;
        let declared = RuleSetFile::decode(&node, &mut sink)?;
        Some(head(declared, node.at().clone(), &mut sink))
    });
    sink.finish(head)
}

/// The keys of a rule set that are no part of its head.
const BODY: [&str; 9] = [
    "candle:",
    "candle_to_the_nearest:",
    "uses:",
    "tables:",
    "colours:",
    "readings:",
    "paragraphs:",
    "take:",
    "requirements:",
];

/// The lines of a rule set before the first key that is no part of its head.
fn head_of(text: &str) -> &str {
    let mut end = 0;
    for line in text.split_inclusive('\n') {
        if BODY.iter().any(|key| line.starts_with(key)) {
            break;
        }
        end += line.len();
    }
    text.get(..end).unwrap_or(text)
}

fn head(file: RuleSetFile, at: At, sink: &mut Sink) -> RuleHead {
    RuleHead {
        id: file.id.value.0,
        title: file.title.value.0,
        judges: file.judges.value,
        kind: file.kind.value,
        basis: file.basis.map(|b| basis(b, sink)),
        document: document(&file.source),
        unverified: text(file.unverified),
        at,
    }
}

fn build(file: RuleSetFile, at: At, shared: SharedFiles<'_>, sink: &mut Sink) -> Option<RuleSet> {
    let mut names = Names::default();
    for name in &file.uses {
        names.add_shared(name, shared, sink);
    }
    let taken: Vec<RequirementDecl> =
        file.take.iter().flat_map(|take| taken::requirements(take, &mut names, shared, sink)).collect();
    names.add(&file.tables, &file.colours, &file.readings, sink);
    let mut candle = Candle::of(&file, sink);
    let kind = file.kind.value;
    let own = file.requirements.as_ref().map_or(&[][..], |list| list.as_slice());
    if own.is_empty() && file.take.is_empty() && file.paragraphs.is_empty() {
        let at = file.requirements.as_ref().map_or(&at, |list| &list.at);
        sink.say(Code::MissingKey, at, "this rule set has no requirements", "add one under `requirements:`");
    }
    let mut seen: BTreeMap<String, At> = BTreeMap::new();
    let mut requirements = Vec::new();
    for declared in taken.iter().chain(own) {
        if let Some(first) = seen.insert(declared.id.0.clone(), declared.id.at.clone()) {
            let message = format!("two requirements are called `{}`", declared.id.0);
            sink.push(
                Diagnostic::new(Code::Contradiction, &declared.id.at, message, "give one another id")
                    .related(&first, "the first"),
            );
        }
        requirements
            .extend(Loader { names: &names, candle: &mut candle, sink: &mut *sink }.requirement(declared, kind));
    }
    let whole = requirements.len() == taken.len() + own.len();
    let paragraphs = file.paragraphs.clone().into_iter().map(|p| paragraph(p, sink)).collect();
    let head = head(file, at, sink);
    whole.then_some(RuleSet { head, readings: names.readings, paragraphs, requirements })
}

fn text(value: Option<Located<Text>>) -> Option<String> {
    value.map(|t| t.value.0)
}

fn document(source: &SourceDecl) -> Document {
    Document {
        name: source.document.0.clone(),
        amendment: text(source.amendment.clone()),
        published: text(source.published.clone()),
        note: text(source.note.clone()),
    }
}

fn basis(declared: BasisDecl, sink: &mut Sink) -> Basis {
    Basis {
        authorities: declared.authority.0.iter().map(|a| a.value).collect(),
        categories: declared.categories.0.iter().map(|c| c.value).collect(),
        chosen_by: declared.chosen_by.value,
        seaplane: declared.seaplane.map(|s| s.value),
        in_force: in_force(declared.in_force, sink),
    }
}

fn in_force(declared: Option<InForceDecl>, sink: &mut Sink) -> InForce {
    if let Some(InForceDecl { from: Some(from), until: Some(until), .. }) = &declared
        && until.last <= from.first
    {
        let message = format!("this ends on {}, and it does not begin before {}", until.value, from.value);
        sink.say(Code::Contradiction, &until.at, message, "write a day later than that of `from`");
    }
    declared.map_or_else(InForce::default, |d| InForce {
        from: d.from.map(|v| v.value),
        until: d.until.map(|v| v.value),
        standing: d.standing.map(|v| v.value),
    })
}

fn paragraph(declared: ParagraphDecl, sink: &mut Sink) -> Paragraph {
    Paragraph {
        at: declared.section.at.clone(),
        section: declared.section.value.0,
        about: declared.about.value.0,
        status: declared.status.value,
        note: text(declared.note),
        in_force: in_force(declared.in_force, sink),
    }
}

fn when(declared: Option<WhenDecl>, sink: &mut Sink) -> When {
    declared.map_or_else(When::default, |d| When {
        category: d.category.0.iter().map(|c| c.value).collect(),
        night: d.night.map(|v| v.value),
        seaplane: d.seaplane.map(|v| v.value),
        mass: d.mass.map_or((None, None), |m| (m.over.map(|v| v.value), m.at_most.map(|v| v.value))),
        length: d.length.map_or((None, None), |m| (m.at_least.map(|v| v.value), m.under.map(|v| v.value))),
        fitted: d.fitted.0.iter().map(|g| g.value).collect(),
        certificated: d.certificated.map(|c| in_force(Some(c), sink)),
    })
}

/// Turns declared requirements into requirements.
struct Loader<'a> {
    names: &'a Names,
    candle: &'a mut Candle,
    sink: &'a mut Sink,
}

impl Loader<'_> {
    fn requirement(&mut self, declared: &RequirementDecl, kind: super::RuleKind) -> Option<Requirement> {
        let demand = match (&declared.goal, &declared.all_of, &declared.any_of) {
            (Some(goal), None, None) => self.goal(goal).map(|g| Demand::Goal(Box::new(g))),
            (None, Some(list), None) => self.demands(list).map(Demand::AllOf),
            (None, None, Some(list)) => self.demands(list).map(Demand::AnyOf),
            _ => {
                let message = format!("`{}` must have one of `goal`, `all_of`, `any_of`", declared.id.0);
                self.sink.say(Code::WrongShape, &declared.id.at, message, "write exactly one of them");
                None
            }
        }?;
        Some(Requirement {
            id: declared.id.0.clone(),
            cite: declared.cite.0.clone(),
            title: declared.title.0.clone(),
            asks: declared.asks.0.clone(),
            usually_missed: text(declared.usually_missed.clone()),
            to_mend: text(declared.to_mend.clone()),
            standing: declared.standing.value.clone(),
            kind: declared.kind.as_ref().map_or(kind, |k| k.value),
            when: when(declared.when.clone(), self.sink),
            in_force: in_force(declared.in_force.clone(), self.sink),
            demand,
            at: declared.id.at.clone(),
        })
    }

    fn demands(&mut self, list: &Located<Vec<DemandDecl>>) -> Option<Vec<Demand>> {
        let read: Vec<Option<Demand>> = list
            .iter()
            .map(|declared| match declared {
                DemandDecl::Goal(goal) => self.goal(goal).map(|g| Demand::Goal(Box::new(g))),
                DemandDecl::AllOf(list) => self.demands(list).map(Demand::AllOf),
                DemandDecl::AnyOf(list) => self.demands(list).map(Demand::AnyOf),
            })
            .collect();
        if read.is_empty() {
            self.sink.say(Code::WrongShape, &list.at, "a group of goals is empty", "list at least one goal");
            return None;
        }
        read.into_iter().collect()
    }

    fn goal(&mut self, declared: &GoalDecl) -> Option<GoalSpec> {
        let limit = self.limit(&declared.limit);
        let relief = declared.relief.as_ref().map(|r| Relief {
            cite: r.cite.0.clone(),
            peak_over: self.figure(&r.peak_over),
            at_most: self.figure(&r.at_most),
        });
        let allow = declared.allow.as_ref().map(|a| self.allowance(a));
        let seen_over = self.table(&declared.seen_over);
        Some(GoalSpec {
            name: text(declared.name.clone()),
            light: declared.light.value,
            each: declared.each.as_ref().map_or(Each::Light, |e| e.value),
            quantity: Located { value: declared.quantity.0.clone(), at: declared.quantity.at.clone() },
            region: declared.region.as_ref().map(region),
            limit: limit?,
            with: declared.with.0.iter().map(|(name, figure)| (name.value.clone(), figure.clone())).collect(),
            allow,
            relief,
            sources: declared.sources.as_ref().map(|s| s.value),
            seen_over: seen_over?,
            above: declared.above.as_ref().map(|l| l.value),
            phases: declared.phases.0.iter().map(|p| p.value).collect(),
            may_be_excused: text(declared.may_be_excused.clone()),
            known: declared.standing.as_ref().map(|s| s.value.clone()),
            at: declared.quantity.at.clone(),
        })
    }

    fn figure(&mut self, declared: &Located<Figure>) -> Figure {
        let mut figure = declared.value.clone();
        self.candle.convert(&mut figure.scalar, &declared.at, self.sink);
        figure
    }

    fn allowance(&mut self, declared: &AllowanceDecl) -> Allowance {
        let at_most = self.figure(&declared.at_most);
        let cone = match &declared.within {
            Some(ConeDecl::Vertical(angle)) => Some((angle, Unit::Degree, "about_vertical: 30 deg")),
            Some(ConeDecl::Aft(cone)) => Some((cone, Unit::Steradian, "about_aft: 0.15 sr")),
            None => None,
        };
        let total = Some((&declared.at_most, Unit::Steradian, "at_most: 0.03 sr"));
        for (figure, unit, like) in total.into_iter().chain(cone) {
            if figure.scalar.unit != unit || figure.scalar.value <= 0.0 {
                let message = format!("what is allowed cannot be `{}`", figure.scalar);
                self.sink.say(Code::WrongValue, &figure.at, message, format!("write it like `{like}`"));
            }
        }
        match &declared.within {
            Some(ConeDecl::Vertical(angle)) => {
                Allowance::AboutVertical { at_most, half_angle_deg: rounded(angle.scalar.value) }
            }
            Some(ConeDecl::Aft(cone)) => Allowance::AboutAft { at_most, cone_sr: cone.scalar.value },
            None => Allowance::Anywhere { at_most },
        }
    }

    fn limit(&mut self, declared: &LimitDecl) -> Option<Limit> {
        match declared {
            LimitDecl::AtLeast(figure) => Some(Limit::AtLeast(self.figure(figure))),
            LimitDecl::AtMost(figure) => Some(Limit::AtMost(self.figure(figure))),
            LimitDecl::Between(pair) => match pair.as_slice() {
                [low, high] => self.between(low, high),
                _ => {
                    self.sink.say(
                        Code::WrongShape,
                        &pair.at,
                        "`between` wants two figures",
                        "write `between: [40 per min, 100 per min]`",
                    );
                    None
                }
            },
            LimitDecl::Floor(floor) => self.floor(floor),
            LimitDecl::Inside(names) => {
                let colours: Vec<Option<NamedColour>> = names
                    .0
                    .iter()
                    .map(|name| find(&self.names.colours, &self.names.told, name, "colour", self.sink).cloned())
                    .collect();
                colours.into_iter().collect::<Option<Vec<_>>>().map(Limit::Inside)
            }
            LimitDecl::Side(side) => Some(Limit::Side(side.value)),
            LimitDecl::Lit(lit) => Some(Limit::Lit(lit.value)),
            LimitDecl::NotAtHand(where_to_look) => Some(Limit::NotAtHand(where_to_look.0.clone())),
        }
    }

    fn between(&mut self, low: &Located<Figure>, high: &Located<Figure>) -> Option<Limit> {
        let (from, to) = (self.figure(low), self.figure(high));
        if from.scalar.unit != to.scalar.unit {
            let message = format!("`{}` and `{}` are of different units", from.scalar, to.scalar);
            self.sink.say(Code::Contradiction, &high.at, message, "give both in one unit");
            return None;
        }
        if from.scalar.value > to.scalar.value {
            let message = format!("the limit from {} to {} runs backwards", from.scalar, to.scalar);
            self.sink.say(
                Code::OutOfRange,
                &low.at,
                message,
                format!("write `between: [{}, {}]`", to.scalar, from.scalar),
            );
            return None;
        }
        Some(Limit::Between(from, to))
    }

    /// A table by its name, its candles turned into candela; `Some(None)` where none is named.
    fn table(&mut self, name: &Option<Located<Text>>) -> Option<Option<Table>> {
        let Some(name) = name else { return Some(None) };
        let mut found = find(&self.names.tables, &self.names.told, name, "table", self.sink)?.clone();
        for row in &mut found.rows {
            self.candle.convert(&mut row.is.scalar, &name.at, self.sink);
        }
        Some(Some(found))
    }

    /// A table by its name whose rows must run over this angle.
    fn table_over(&mut self, name: &Option<Located<Text>>, over: Over) -> Option<Option<Table>> {
        let found = self.table(name)?;
        if let (Some(name), Some(other)) = (name, name.as_ref().and_then(|n| self.names.over.get(&n.0)))
            && *other != over
        {
            let message = format!("the table `{}` runs over {other}, and one over {over} is wanted", name.0);
            self.sink.say(Code::Contradiction, &name.at, message, format!("name a table that says `over: {over}`"));
            return None;
        }
        Some(found)
    }

    fn floor(&mut self, declared: &Located<FloorDecl>) -> Option<Limit> {
        let azimuth = self.table_over(&declared.by_azimuth, Over::Azimuth);
        let factor = self.table_over(&declared.times_by_elevation, Over::Elevation);
        let elevation = self.table_over(&declared.by_elevation, Over::Elevation);
        let of_light = |table: &Option<Table>| {
            table.iter().flat_map(|t| &t.rows).all(|row| matches!(row.is.scalar.unit, Unit::Candela | Unit::Candle))
        };
        let of_factors =
            |table: &Option<Table>| table.iter().flat_map(|t| &t.rows).all(|row| row.is.scalar.unit == Unit::Times);
        let (azimuth, factor, elevation) = (azimuth?, factor?, elevation?);
        if !of_light(&azimuth) || !of_light(&elevation) || !of_factors(&factor) {
            let message = "a floor is of candela, and `times_by_elevation` of factors";
            self.sink.say(Code::Contradiction, &declared.at, message, "name tables whose rows are of that kind");
        }
        match (azimuth, factor, elevation) {
            (Some(by_azimuth), times_by_elevation, None) => Some(Limit::Floor { by_azimuth, times_by_elevation }),
            (None, None, Some(by_elevation)) => Some(Limit::FloorByElevation(by_elevation)),
            _ => {
                self.sink.say(
                    Code::WrongShape,
                    &declared.at,
                    "a floor wants `by_azimuth`, with `times_by_elevation` or without, or `by_elevation` alone",
                    "name the tables so",
                );
                None
            }
        }
    }
}

fn region(declared: &RegionDecl) -> Region {
    match declared {
        RegionDecl::Dihedral(angle) => Region::Dihedral(angle.value),
        RegionDecl::Band(band) => Region::Band(Interval::new(band.from.deg(), band.to.deg())),
        RegionDecl::Overlap(overlap) => Region::Overlap {
            into: overlap.into.value,
            plane_deg: overlap.plane.deg(),
            angles_deg: Interval::new(rounded(overlap.from.deg()), rounded(overlap.to.deg())),
        },
        RegionDecl::Sector(sector) => Region::Sector(Patch {
            azimuth: AzimuthSpan::between(rounded(sector.from.deg()), rounded(sector.to.deg())),
            elevation_deg: Interval::new(
                sector.low.as_ref().map_or(-90.0, |e| rounded(e.deg())),
                sector.high.as_ref().map_or(90.0, |e| rounded(e.deg())),
            ),
        }),
    }
}
