//! What to hold of each blank, and what one diameter or base curve more would save, held to whole runs on a shelf that has it;
//! and the levels tried on later weeks of which the documentation tells.

use crate::docs::read;
use crate::orders::{Rows, column, csv_text, file, invented, rimwise, room, table};
use rimwise::material::Shelf;
use rimwise::read::orders::Orders as Reader;
use rimwise::report::number::figure;
use rimwise::study::holding::{History, Wish};
use rimwise::study::orders::Orders;
use rimwise::study::totals::Group;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// What `stock-holding` says: exit code, rows, words.
fn holding(orders: &Path, more: &[&str]) -> (Option<i32>, Rows, String) {
    let assert = rimwise().arg("stock-holding").arg(orders).args(more).assert();
    let output = assert.get_output().clone();
    (output.status.code(), table(&output.stdout), String::from_utf8(output.stderr).expect("text"))
}

type Row = BTreeMap<String, String>;

fn number<T: std::str::FromStr>(row: &Row, name: &str) -> T {
    row[name].parse().ok().unwrap_or_else(|| panic!("`{name}` is no such number in {row:?}"))
}

/// Millionths, from a number with six decimals.
fn millionths(text: &str) -> i128 {
    let (_, decimals) = text.split_once('.').expect("decimals");
    assert_eq!(decimals.len(), 6, "{text}");
    text.replace('.', "").parse().expect("a number")
}

/// Invented orders, with pupils so near in some of them that a finished lens is wanted larger than there is.
fn orders_with_some_too_large() -> Vec<Vec<String>> {
    let mut rows = invented(900, 11);
    let ready: Vec<usize> = (1..rows.len())
        .filter(|i| rows[*i][column("supply")] == "stock" && rows[*i][column("eye_size_mm")].as_str() > "50")
        .collect();
    assert!(ready.len() > 20, "{}", ready.len());
    for i in ready.into_iter().step_by(3) {
        rows[i][column("pd_mm")] = "25".to_owned();
    }
    rows
}

/// A folder with the one material as a row of the answer would have it, written by hand into the built-in file.
fn shelf_with(room: &Path, name: &str, row: &Row) -> PathBuf {
    let file = format!("{}.toml", row["material"]);
    let built_in = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("materials").join(&file));
    let mut material: toml::Table = built_in.expect("built in").parse().expect("a material");
    let key = if row["supply"] == "stock" { "stock" } else { "semi_finished" };
    let list = material[key].as_array_mut().expect("rows");
    let base: f64 = number(row, "base_curve_d");
    let diameters: Vec<f64> = row["diameters_mm"].split(' ').map(|mm| mm.parse().expect("a number")).collect();
    if row["added"] == "base" {
        let mut new = toml::Table::new();
        new.insert("base_curve_d".to_owned(), base.into());
        new.insert("diameters_mm".to_owned(), diameters.into());
        for thickness in ["centre_mm", "edge_mm"] {
            new.insert(thickness.to_owned(), number::<f64>(row, thickness).into());
        }
        list.push(new.into());
    } else {
        let of_base = |it: &&mut toml::Value| it["base_curve_d"].as_float() == Some(base);
        for listed in list.iter_mut().filter(of_base) {
            let listed = listed.as_table_mut().expect("a row");
            let mm = |it: &toml::Value| it.as_float().or(it.as_integer().map(|mm| mm as f64)).expect("a number");
            let mut all: Vec<f64> = listed["diameters_mm"].as_array().expect("a list").iter().map(mm).collect();
            all.extend(&diameters);
            all.sort_by(f64::total_cmp);
            all.dedup();
            listed.insert("diameters_mm".to_owned(), all.into());
            if key == "semi_finished" {
                listed.insert("edge_mm".to_owned(), number::<f64>(row, "edge_mm").into());
            }
        }
    }
    let folder = room.join(name);
    fs::create_dir(&folder).expect("a folder");
    fs::write(folder.join(file), material.to_string()).expect("a file");
    folder
}

/// What a whole run says of some orders on a shelf.
struct Whole {
    lenses: i128,
    swarf: i128,
    /// Numbers of the orders with a row that is refused.
    refused: BTreeSet<String>,
    /// Lenses of the material and supply by base and diameter.
    cut: BTreeMap<(String, String), u64>,
    /// Blanks held of the material and supply.
    held: u64,
}

fn whole(room: &Path, name: &str, orders: &[Vec<String>], shelf: Option<&Path>, of: &Row) -> Whole {
    let path = room.join(format!("{name}.csv"));
    fs::write(&path, csv_text(orders.to_vec())).expect("a file");
    let out = room.join(name);
    let run = |command: &str, more: &[&Path]| {
        let mut program = rimwise();
        program.arg(command).arg(&path).args(more);
        if let Some(shelf) = shelf {
            program.arg("--materials").arg(shelf);
        }
        program.assert().get_output().stdout.clone()
    };
    run("stock", &[Path::new("--out"), &out]);
    let totals: serde_json::Value = serde_json::from_slice(&file(room, name, "totals.json")).expect("JSON");
    let is_of = |row: &&Row| row["material"] == of["material"] && row["supply"] == of["supply"];
    let blanks = table(&file(room, name, "blanks.csv"));
    Whole {
        lenses: totals["lenses"].to_string().parse().expect("a number"),
        swarf: totals["millionths"]["swarf_g"].to_string().parse().expect("a number"),
        refused: table(&file(room, name, "refused.csv")).into_iter().map(|row| row["order"].clone()).collect(),
        cut: blanks
            .iter()
            .filter(is_of)
            .map(|row| ((row["base_curve_d"].clone(), row["diameter_mm"].clone()), number(row, "count")))
            .collect(),
        held: table(&run("stock-holding", &[])).iter().filter(is_of).map(|row| number::<u64>(row, "hold")).sum(),
    }
}

/// The rows of an answer that are tried: the best and the worst, and the best of each kind.
fn some_of_each_kind(rows: &[Row]) -> Vec<&Row> {
    let first = |is: &dyn Fn(&Row) -> bool| rows.iter().find(|row| is(row)).expect("one of that kind");
    let is = |name: &'static str, word: &'static str| move |row: &Row| row[name] == word;
    let mut some = vec![&rows[0], rows.last().expect("rows")];
    some.push(first(&is("added", "base")));
    some.push(first(&is("supply", "stock")));
    some.push(first(&|row| row["gained"] != "0"));
    some.push(first(&|row| {
        !row["centre_mm"].is_empty() && number::<f64>(row, "edge_mm").fract() != 0.0 && row["added"] != "base"
    }));
    some.extend(rows.iter().filter(|row| row["lost"] != "0").take(1));
    some.extend(rows.iter().filter(|row| row["added"] == "base").skip(1).take(1));
    some
}

#[test]
fn one_more_saves_what_two_whole_runs_differ_by() {
    let room = room();
    let orders = orders_with_some_too_large();
    let path = room.path().join("orders.csv");
    fs::write(&path, csv_text(orders.clone())).expect("a file");
    let (code, rows, said) = holding(&path, &["--one-more"]);
    assert_eq!(code, Some(3), "{said}");
    let (mut saved, mut gained, mut spread) = (0, 0, 0);
    for (i, row) in some_of_each_kind(&rows).into_iter().enumerate() {
        let shelf = shelf_with(room.path(), &format!("shelf-{i}"), row);
        let now = whole(room.path(), &format!("now-{i}"), &orders, None, row);
        let then = whole(room.path(), &format!("then-{i}"), &orders, Some(&shelf), row);
        let taken: u64 = row["diameters_mm"]
            .split(' ')
            .filter_map(|mm| then.cut.get(&(row["base_curve_d"].clone(), mm.to_owned())))
            .sum();
        let before: u64 = row["diameters_mm"]
            .split(' ')
            .filter_map(|mm| now.cut.get(&(row["base_curve_d"].clone(), mm.to_owned())))
            .sum();
        assert_eq!((number::<u64>(row, "taken"), before), (taken, 0), "{row:?}");
        assert_eq!((number(row, "hold_now"), number(row, "hold_then")), (now.held, then.held), "{row:?}");
        let more: i128 = number::<i128>(row, "gained") - number::<i128>(row, "lost");
        assert_eq!(more, then.lenses - now.lenses, "{row:?}");
        // Swarf is compared of the lenses that are made either way: the orders of which that is not so are taken out.
        let turned: BTreeSet<&String> = now.refused.symmetric_difference(&then.refused).collect();
        let both: Vec<Vec<String>> = orders.iter().filter(|order| !turned.contains(&order[0])).cloned().collect();
        let now = whole(room.path(), &format!("both-now-{i}"), &both, None, row);
        let then = whole(room.path(), &format!("both-then-{i}"), &both, Some(&shelf), row);
        let (_, again, _) = holding(&room.path().join(format!("both-now-{i}.csv")), &["--one-more"]);
        let same = |other: &&Row| {
            ["material", "supply", "added", "base_curve_d", "diameters_mm"].iter().all(|it| other[*it] == row[*it])
        };
        let told = again.iter().find(same).map_or(0, |row| millionths(&row["swarf_saved_g"]));
        assert_eq!(told, now.swarf - then.swarf, "{row:?}");
        // What is on the shelf is no addition.
        let listed = ["--one-more", "--materials", shelf.to_str().expect("text")];
        assert!(!holding(&path, &listed).1.iter().any(|row| same(&row)), "{row:?}");
        saved += usize::from(told != 0);
        gained += usize::from(!turned.is_empty());
        spread += usize::from(row["hold_now"] != row["hold_then"]);
    }
    assert!(
        saved >= 5 && gained >= 1 && spread >= 3,
        "{saved} that save, {gained} with which more can be made, {spread} that spread the demand"
    );
}

#[test]
fn the_best_addition_comes_first_and_is_told_in_words() {
    let room = room();
    let path = room.path().join("orders.csv");
    let orders = orders_with_some_too_large();
    fs::write(&path, csv_text(orders.clone())).expect("a file");
    let (_, rows, said) = holding(&path, &["--one-more", "--lead-weeks", "3"]);
    let key = |row: &Row| {
        let more = number::<i64>(row, "gained") - number::<i64>(row, "lost");
        (-millionths(&row["swarf_saved_g"]), -more, number::<u64>(row, "hold_then"))
    };
    assert!(rows.len() > 50 && rows.iter().map(key).is_sorted(), "{} rows", rows.len());
    assert!(rows.iter().all(|row| number::<u64>(row, "taken") > 0));
    assert!(rows.iter().any(|row| number::<u64>(row, "hold_then") > number(row, "hold_now")), "demand is spread");
    let best = &rows[0];
    let words = format!("{} {}, base {} D", best["material"], best["supply"], best["base_curve_d"]);
    assert!(said.lines().nth(1).is_some_and(|line| line.starts_with(&words)), "{said}");
    // The year of these orders has 365 days.
    let [whole, year] = ["swarf_saved_g", "swarf_saved_g_year"].map(|name| number::<f64>(best, name));
    assert!((whole - year).abs() <= 0.05 + 1e-9, "{whole} {year}");
    let most = rows.iter().map(|row| number::<u64>(row, "gained")).max().expect("rows");
    assert!(said.contains(&format!("; {most} more could be made")), "{said}");
    assert!(said.contains("in 98.0 % of cases") && said.contains("over 3 weeks"), "{said}");
    // A row that is wrong changes nothing but the count of those.
    let mut faulty = orders.clone();
    faulty.push(orders[5].clone());
    let last = faulty.last_mut().expect("a row");
    last[0] = "Z1".to_owned();
    last[column("sphere")] = "-4,25".to_owned();
    fs::write(&path, csv_text(faulty)).expect("a file");
    let (code, again, more) = holding(&path, &["--one-more", "--lead-weeks", "3"]);
    assert!(code == Some(3) && again == rows && more != said, "{more}");
    // One without a date neither.
    let at = column("date");
    let mut undated = orders.clone();
    undated.push(orders[5].clone());
    let last = undated.last_mut().expect("a row");
    (last[0], last[at]) = ("Z1".to_owned(), String::new());
    fs::write(&path, csv_text(undated)).expect("a file");
    let (_, again, more) = holding(&path, &["--one-more", "--lead-weeks", "3"]);
    assert!(again == rows && more.contains("1 lens has no date and is left out"), "{more}");
}

#[test]
fn orders_that_tell_nothing_of_a_week_are_refused_with_what_would_help() {
    let room = room();
    let path = room.path().join("orders.csv");
    let rows = invented(100, 2);
    let at = column("date");
    let bare = rows.iter().cloned().map(|mut row| {
        row.remove(at);
        row
    });
    fs::write(&path, csv_text(bare)).expect("a file");
    for more in [&[][..], &["--one-more"]] {
        let (code, answer, said) = holding(&path, more);
        assert!(code == Some(2) && answer.is_empty() && said.contains("add it, year-month-day"), "{said}");
    }
    // Some weeks are enough, but told to be few.
    fs::write(&path, csv_text(rows[..20].to_vec())).expect("a file");
    let (code, _, said) = holding(&path, &["--one-more"]);
    assert!(code == Some(0) && said.contains("cover only"), "{said}");
    fs::write(&path, csv_text(rows[..4].to_vec())).expect("a file");
    let (code, answer, said) = holding(&path, &["--one-more"]);
    assert!(code == Some(2) && answer.is_empty() && said.contains("Give orders over a longer time"), "{said}");
}

/// What is sold of each blank by the day, of invented orders.
fn history(lenses: u64, seed: u64) -> History {
    let text = csv_text(invented(lenses, seed));
    let mut reader = Reader::new(&text[..]).expect("orders");
    let header = reader.header().clone();
    let (shelf, desk) = (Shelf::built_in(), Orders::default());
    let mut history = History::default();
    loop {
        let units = reader.some(500).expect("orders");
        if units.is_empty() {
            return history;
        }
        for unit in units {
            let judged = |row| header.judge(row, &shelf, &rimwise::job::NoOutlines).value.expect("sound");
            let orders: Vec<_> = [Some(&unit.first), unit.second.as_ref()].into_iter().flatten().map(judged).collect();
            let worked = match &orders[..] {
                [first, second] => Vec::from(desk.pair([&first.lens, &second.lens])),
                alone => alone.iter().map(|order| desk.alone(&order.lens)).collect(),
            };
            for (order, worked) in orders.iter().zip(worked) {
                match worked {
                    Ok(worked) => history.count(Group::of(&order.lens.lens, &worked), order.date.as_deref()),
                    Err(_) => history.count_unmade(order.date.as_deref()),
                }
            }
        }
    }
}

#[test]
fn the_backtest_of_the_documentation_is_the_programs() {
    let page = read(Path::new("docs/lab.md"));
    let (lenses, seed) = (10_000, 7);
    for command in [
        format!("rimwise new-orders history.csv --lenses {lenses} --seed {seed}"),
        "rimwise stock-holding history.csv --lead-weeks 4 --service 99".to_owned(),
    ] {
        assert!(page.contains(&command), "docs/lab.md no longer says {command}");
    }
    let history = history(lenses, seed);
    let reached = |service: f64, lead_weeks: usize| {
        let wish = Wish { lead_weeks, service: service / 100.0, seed: 1 };
        let test = history.backtest(&wish).expect("a year is long enough");
        let share = |lasted: u64| figure(100.0 * lasted as f64 / test.lead_times as f64, 1);
        [share(test.lasted), share(test.lasted_by_formula)]
    };
    for service in [90.0, 95.0, 98.0, 99.0] {
        let cells = [1, 2, 4].map(|lead_weeks| reached(service, lead_weeks).join(" / "));
        let row = format!("| {service} % | {} |", cells.join(" | "));
        assert!(page.contains(&row), "docs/lab.md ought to say {row}");
    }
    // And by the command itself.
    let room = room();
    let path = room.path().join("history.csv");
    rimwise().arg("new-orders").arg(&path).args(["--lenses", "10000", "--seed", "7"]).assert().code(0);
    let (_, _, said) = holding(&path, &["--lead-weeks", "4", "--service", "99"]);
    let [drawn, formula] = reached(99.0, 4);
    let words = format!("the levels last in {drawn} % of cases, those by the formula in {formula} %");
    assert!(said.contains(&words), "{words}: {said}");
    // So are the best additions to the shelf.
    let (_, rows, said) = holding(&path, &["--one-more"]);
    assert!(rows.len() > 100, "{said}");
    for line in said.lines().take(4) {
        assert!(page.contains(line), "docs/lab.md ought to say {line}");
    }
}

#[test]
fn what_to_hold_is_told_of_every_blank() {
    let room = room();
    let path = room.path().join("orders.csv");
    fs::write(&path, csv_text(invented(6_000, 1))).expect("a file");
    let hold = |more: &[&str]| holding(&path, more);
    let (code, rows, said) = hold(&["--lead-weeks", "3", "--service", "95"]);
    assert!(code == Some(0) || code == Some(3), "{said}");
    assert_eq!(hold(&["--lead-weeks", "3", "--service", "95"]).1, rows, "the same seed");
    let number = |row: &Row, name: &str| number::<f64>(row, name);
    let mut sold = 0.0;
    for row in &rows {
        sold += number(row, "sold");
        assert!(number(row, "hold_low") <= number(row, "hold_high"), "{row:?}");
        assert!(number(row, "hold") <= number(row, "sold"), "{row:?}");
        // Three weeks of the mean is the least that lasts in 95 of 100; often sold, both ways agree.
        assert!(number(row, "hold") >= (3.0 * number(row, "weekly_mean")).floor(), "{row:?}");
        if number(row, "weekly_mean") > 10.0 {
            let off = number(row, "hold") / number(row, "hold_by_formula");
            assert!((off - 1.0).abs() < 0.15, "{row:?}");
        }
    }
    // Whole weeks of a year of 365 days: all days but one.
    assert!(sold > 5_900.0 && sold < 6_000.0, "{sold}");
    assert!(rows.iter().any(|row| row["sold"] == "0"), "every blank was sold");
    assert!(said.contains("52 whole weeks") && said.contains("first 39 weeks") && said.contains("last 13"), "{said}");
    assert_eq!(hold(&["--service", "100"]).0, Some(2));
    // Four days of orders are no history.
    let text: String =
        fs::read_to_string(&path).expect("there").lines().take(20).map(|line| format!("{line}\n")).collect();
    fs::write(&path, text).expect("a file");
    let (code, rows, said) = hold(&[]);
    assert!(code == Some(2) && rows.is_empty() && said.contains("whole weeks"), "{said}");
}
