//! The charts of `sweep`: a line for each eye or each word of a list, bars where there are words alone, contours where two
//! numbers vary.
//!
//! Units: those of the keys and figures.

use super::super::number::figure;
use super::super::words::{self, sweep as said};
use crate::draw::Picture;
use crate::draw::bars::{Bar, BarChart};
use crate::draw::chart::{Emphasis, LineChart, Mark, Series};
use crate::draw::field::{FieldChart, Spot};
use crate::eye::Eye;
use crate::study::sweep::{Row, Show, Sweep, Value, Vary};

const KIND: &str = "chart-sweep";
const WIDE_MM: f64 = 150.0;
const HIGH_MM: f64 = 84.0;
const MAP_MM: (f64, f64) = (130.0, 92.0);
/// Beside the point of the job.
const OWN: &str = "as in the job";

/// A chart, and the name of its files without their ending.
#[derive(Clone, Debug)]
pub struct SweepPicture {
    /// `chart-edge-max-mm`.
    pub name: String,
    /// What it shows.
    pub picture: Picture,
}

/// The charts of a sweep, one for each figure; none of what exists at fewer than two values.
#[must_use]
pub fn sweep(of: &Sweep<'_>, shows: &[Show]) -> Vec<SweepPicture> {
    let numbers = |vary: &Vary| !vary.what.is_of_words();
    match &of.asked.vary[..] {
        [one] if numbers(one) => together(shows).into_iter().filter_map(|group| over_one(of, &group)).collect(),
        [one, other] if numbers(one) && numbers(other) => shows.iter().filter_map(|show| over_two(of, show)).collect(),
        [one, other] if numbers(one) != numbers(other) => shows.iter().filter_map(|show| family(of, show)).collect(),
        _ => shows.iter().filter_map(|show| bars(of, show)).collect(),
    }
}

/// What one chart shows: a figure of both eyes, or figures of one eye in one unit.
fn together(shows: &[Show]) -> Vec<Vec<Show>> {
    let mut groups: Vec<Vec<Show>> = Vec::new();
    for show in shows {
        let fits = |there: &Show| match (there.eye(), show.eye()) {
            (Some(one), Some(other)) if one == other => there.unit() == show.unit(),
            (Some(_), Some(_)) => there.figure_id() == show.figure_id(),
            _ => false,
        };
        match groups.iter_mut().find(|group| group.iter().all(fits)) {
            Some(group) => group.push(*show),
            None => groups.push(vec![*show]),
        }
    }
    groups
}

fn name(shows: &[Show]) -> Option<String> {
    let first = shows.first()?;
    let id = match shows {
        [_] => first.id(),
        _ if is_of_one_eye(shows) => {
            let ids = shows.iter().map(|show| show.figure_id().rsplit('.').next().unwrap_or_default());
            format!("{}-{}", first.eye().map_or("", Eye::word), ids.collect::<Vec<&str>>().join("-"))
        }
        _ => first.figure_id().to_owned(),
    };
    let plain = |sign: char| if sign.is_ascii_alphanumeric() { sign } else { '-' };
    Some(format!("chart-{}", id.chars().map(plain).collect::<String>()))
}

/// Several figures of one lens?
fn is_of_one_eye(shows: &[Show]) -> bool {
    shows.len() > 1 && shows.windows(2).all(|pair| pair[0].eye() == pair[1].eye())
}

fn label(show: &Show, name: &str) -> String {
    format!("{}, {}", words::capital(name), show.unit().symbol())
}

/// A line's points, a gap where nothing can be made and where what is chosen changes in a step.
fn points(rows: &[&Row], at: usize, show: &Show) -> Vec<(f64, Option<f64>)> {
    let mut points: Vec<(f64, Option<f64>)> = Vec::new();
    let mut before: Option<&Row> = None;
    for &row in rows {
        let Some(x) = row.values.get(at).and_then(Value::number) else { continue };
        if let (Some(before), Some(&(last, _))) = (before, points.last())
            && before.steps_to(row)
        {
            points.push((0.5 * (last + x), None));
        }
        points.push((x, show.read(row)));
        before = Some(row);
    }
    points
}

fn exists(points: &[(f64, Option<f64>)]) -> bool {
    points.iter().filter(|point| point.1.is_some()).count() > 1
}

fn description(of: &Sweep<'_>, shows: &[Show]) -> String {
    let mut sentences = said::answer(of, shows);
    sentences.extend(said::gaps(of));
    sentences.join(" ")
}

/// Where the job stands, on the first line that has it.
fn mark(of: &Sweep<'_>, at: usize, show: &Show) -> Option<Mark> {
    let own = of.own()?;
    let (x, y) = (own.values.get(at)?.number()?, show.read(own)?);
    Some(Mark { x, y, text: format!("{} {OWN}", figure(y, show.decimals())), chosen: true })
}

fn chart(of: &Sweep<'_>, shows: &[Show], at: usize, mut series: Vec<Series>) -> Option<SweepPicture> {
    if !series.iter().any(|series| exists(&series.points)) {
        return None;
    }
    // The last is drawn first: a thin line on a wide one shows that both run there.
    series.sort_by_key(|series| match series.emphasis {
        Emphasis::Plain => 0,
        Emphasis::Compared => 1,
        Emphasis::Main => 2,
    });
    let (first, vary) = (shows.first()?, of.asked.vary.get(at)?);
    let one_eye = is_of_one_eye(shows);
    let names: Vec<String> = shows.iter().map(|show| show.name().to_owned()).collect();
    let what = match shows {
        [_] => said::shown(first),
        _ if one_eye => format!("{} {}", first.eye().map_or("", Eye::word), words::list(&names)),
        _ => first.name().to_owned(),
    };
    let list = of.asked.vary.iter().filter(|vary| vary.what.is_of_words());
    let over: Vec<&str> = [vary.what.name].into_iter().chain(list.map(|vary| vary.what.name)).collect();
    let line = LineChart {
        title: format!("{} over {}, {}", words::capital(&what), over.join(" for each "), said::subject(of)),
        description: description(of, shows),
        x_label: x_label(of, at)?,
        y_label: if one_eye { first.unit().symbol().to_owned() } else { label(first, &what) },
        series,
        marks: mark(of, at, first).into_iter().collect(),
        wishes: Vec::new(),
        top: 0.0,
        width_mm: WIDE_MM,
        height_mm: HIGH_MM,
    };
    Some(SweepPicture { name: name(shows)?, picture: line.draw(KIND) })
}

/// One number varied: a line, or one for each eye where they differ on show.
fn over_one(of: &Sweep<'_>, shows: &[Show]) -> Option<SweepPicture> {
    let rows: Vec<&Row> = of.rows.iter().collect();
    let lines: Vec<Vec<(f64, Option<f64>)>> = shows.iter().map(|show| points(&rows, 0, show)).collect();
    let on_show = |points: &[(f64, Option<f64>)], show: &Show| -> Vec<String> {
        points.iter().map(|point| point.1.map_or_else(String::new, |y| figure(y, show.decimals()))).collect()
    };
    let alike = match (shows, &lines[..]) {
        ([one, other], [right, left]) if one.figure_id() == other.figure_id() => {
            on_show(right, one) == on_show(left, one)
        }
        _ => false,
    };
    let series = shows.iter().zip(lines).take(if alike { 1 } else { shows.len() });
    let series = series.enumerate().map(|(i, (show, points))| Series {
        name: match show.eye() {
            Some(_) if shows.len() == 1 => String::new(),
            Some(_) if is_of_one_eye(shows) => show.name().to_owned(),
            Some(_) if alike => "both eyes".to_owned(),
            Some(Eye::Right) => "right".to_owned(),
            Some(Eye::Left) => "left".to_owned(),
            None => String::new(),
        },
        points,
        emphasis: match i {
            0 => Emphasis::Main,
            1 => Emphasis::Compared,
            _ => Emphasis::Plain,
        },
    });
    chart(of, shows, 0, series.collect())
}

/// A number over which each word of a list has a line.
fn family(of: &Sweep<'_>, show: &Show) -> Option<SweepPicture> {
    let words_at = of.asked.vary.iter().position(|vary| vary.what.is_of_words())?;
    let (list, at) = (of.asked.vary.get(words_at)?, 1 - words_at);
    let own = of.own_value(words_at);
    let main = list.values.iter().position(|word| Some(word) == own.as_ref()).unwrap_or(0);
    let series = list.values.iter().enumerate().map(|(i, word)| {
        let rows: Vec<&Row> = of.rows.iter().filter(|row| row.values.get(words_at) == Some(word)).collect();
        Series {
            name: said::value(list.what, word),
            points: points(&rows, at, show),
            emphasis: if i == main { Emphasis::Main } else { Emphasis::Plain },
        }
    });
    chart(of, &[*show], at, series.collect())
}

/// Words alone: bars.
fn bars(of: &Sweep<'_>, show: &Show) -> Option<SweepPicture> {
    let values: Vec<Option<f64>> = of.rows.iter().map(|row| show.read(row)).collect();
    // A bar begins at nought.
    if values.iter().flatten().any(|value| *value < 0.0) || values.iter().flatten().count() == 0 {
        return None;
    }
    let bars = of.rows.iter().zip(values).map(|(row, value)| Bar {
        name: said::at_row(of, row),
        value: value.unwrap_or(0.0),
        text: value.map_or_else(
            || if row.pair().is_some() { "none".to_owned() } else { "cannot be made".to_owned() },
            |value| figure(value, show.decimals()),
        ),
    });
    let what = said::shown(show);
    let picture = BarChart {
        title: format!("{}, {}", words::capital(&what), said::subject(of)),
        description: description(of, &[*show]),
        label: label(show, &what),
        bars: bars.collect(),
        width_mm: WIDE_MM,
    };
    Some(SweepPicture { name: name(&[*show])?, picture: picture.draw(KIND) })
}

/// Two numbers varied: contours, the first thing across.
fn over_two(of: &Sweep<'_>, show: &Show) -> Option<SweepPicture> {
    let [across, up] = &of.asked.vary[..] else { return None };
    let rising = |vary: &Vary| {
        let mut order: Vec<(usize, f64)> =
            vary.values.iter().enumerate().filter_map(|(i, value)| Some((i, value.number()?))).collect();
        order.sort_by(|a, b| a.1.total_cmp(&b.1));
        order
    };
    let (xs, ys) = (rising(across), rising(up));
    if xs.len() < 2 || ys.len() < 2 {
        return None;
    }
    let value = |i: usize, j: usize| of.rows.get(i * up.values.len() + j).and_then(|row| show.read(row));
    let values: Vec<Vec<Option<f64>>> =
        ys.iter().map(|&(j, _)| xs.iter().map(|&(i, _)| value(i, j)).collect()).collect();
    let whole = |j: usize, i: usize| {
        [(j, i), (j + 1, i), (j, i + 1), (j + 1, i + 1)].iter().all(|&(j, i)| values[j][i].is_some())
    };
    if !(0..ys.len() - 1).any(|j| (0..xs.len() - 1).any(|i| whole(j, i))) {
        return None;
    }
    let spot = of.own().and_then(|own| {
        let [x, y] = [own.values.first()?.number()?, own.values.get(1)?.number()?];
        let value = show.read(own)?;
        Some(Spot { x, y, value, text: figure(value, show.decimals()) })
    });
    let what = said::shown(show);
    let picture = FieldChart {
        title: format!(
            "{} over {} and {}, {}",
            words::capital(&what),
            across.what.name,
            up.what.name,
            said::subject(of)
        ),
        description: description(of, &[*show]),
        x_label: said::axis(across.what),
        y_label: said::axis(up.what),
        label: label(show, &what),
        xs: xs.into_iter().map(|(_, x)| x).collect(),
        ys: ys.into_iter().map(|(_, y)| y).collect(),
        legend: legend(&values, of, spot.is_some()),
        values,
        spot,
        width_mm: MAP_MM.0,
        height_mm: MAP_MM.1,
    };
    Some(SweepPicture { name: name(&[*show])?, picture: picture.draw(KIND) })
}

/// What the dot and white places of a map mean.
fn legend(values: &[Vec<Option<f64>>], of: &Sweep<'_>, dot: bool) -> String {
    let white = values.iter().flatten().any(Option::is_none);
    let impossible = of.rows.iter().any(|row| row.pair().is_none());
    let parts = [
        dot.then(|| format!("Dot: {OWN}.")),
        (white && impossible).then(|| "White: cannot be made.".to_owned()),
        (white && !impossible).then(|| "White: there is none.".to_owned()),
    ];
    parts.into_iter().flatten().collect::<Vec<String>>().join(" ")
}

/// What runs along x, and why a line breaks.
fn x_label(of: &Sweep<'_>, at: usize) -> Option<String> {
    let axis = said::axis(of.asked.vary.get(at)?.what);
    let gap = of.rows.iter().any(|row| row.pair().is_none());
    let beside = |one: &Row, other: &Row| {
        let words = |row: &Row| row.values.get(1 - at.min(1)).cloned();
        of.asked.vary.len() < 2 || words(one) == words(other)
    };
    let lines = of.rows.iter().enumerate();
    let step = lines.filter_map(|(i, row)| Some((row, of.rows[i + 1..].iter().find(|next| beside(row, next))?)));
    let step = { step }.any(|(row, next)| row.steps_to(next));
    Some(match (step, gap) {
        (false, false) => axis,
        (true, false) => format!("{axis}; a break: another base curve or uncut"),
        (false, true) => format!("{axis}; a gap: cannot be made"),
        (true, true) => format!("{axis}; a break: another base curve or uncut; a gap: cannot be made"),
    })
}
