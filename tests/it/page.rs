//! The page and the folder that `--out` writes: well formed, self-contained, named as promised.

use crate::report::{DEMO_JOBS, demo, job};
use rimwise::draw::Picture;
use rimwise::job::Job;
use rimwise::report::folder::{self, PAGE, RESULT, SHEET};
use rimwise::report::pictures::{FitPictures, Pictures};
use rimwise::report::words;
use rimwise::study::compare::Comparison;
use roxmltree::{Document, Node};
use std::collections::BTreeSet;

fn page(job: &Job) -> String {
    let files = folder::files(&Comparison::of(job), &[]);
    String::from_utf8(files[PAGE].clone()).expect("text")
}

/// The page as XML: without its first line and the elements that HTML leaves open, of which only `meta` is used.
pub(crate) fn as_xml(page: &str) -> String {
    let mut text = page.strip_prefix("<!DOCTYPE html>").expect("a doctype first").to_owned();
    while let Some(from) = text.find("<meta") {
        let to = text[from..].find('>').expect("its end") + from;
        text.replace_range(from..=to, "");
    }
    text
}

fn attributes<'d>(document: &'d Document<'d>, name: &'d str) -> impl Iterator<Item = &'d str> {
    document.descendants().filter_map(move |node| node.attribute(name))
}

#[test]
fn the_page_is_well_formed_and_refers_to_nothing_outside() {
    for name in DEMO_JOBS {
        let html = page(&demo(name));
        for outside in ["http:", "https:", "src=", "@import", "<script", "<link", "url(/", "javascript:"] {
            assert!(!html.contains(outside), "{name}: {outside}");
        }
        let text = as_xml(&html);
        let document = Document::parse(&text).unwrap_or_else(|fault| panic!("{name}: {fault}"));
        let ids: Vec<&str> = attributes(&document, "id").collect();
        let known: BTreeSet<&str> = ids.iter().copied().collect();
        assert_eq!(ids.len(), known.len(), "{name}: an id is used twice");
        let files = folder::files(&Comparison::of(&demo(name)), &[]);
        let (places, beside): (Vec<&str>, Vec<&str>) =
            attributes(&document, "href").partition(|href| href.starts_with('#'));
        for file in beside {
            assert!(files.contains_key(file), "{name}: there is no {file} beside the page");
        }
        let links = places.into_iter().map(|href| href.trim_start_matches('#'));
        let labels = attributes(&document, "aria-labelledby").flat_map(str::split_whitespace);
        let mut referred = 0;
        for id in links.chain(labels) {
            assert!(known.contains(id), "{name}: nothing is called {id}");
            referred += 1;
        }
        assert!(referred > 20, "{name}: hardly any reference was looked at");
    }
}

pub(crate) fn has_class(node: Node<'_, '_>, class: &str) -> bool {
    node.attribute("class").is_some_and(|classes| classes.split_whitespace().any(|one| one == class))
}

#[test]
fn every_option_is_in_the_table_and_on_a_card() {
    for name in DEMO_JOBS {
        let job = demo(name);
        let text = as_xml(&page(&job));
        let document = Document::parse(&text).expect("valid XML");
        let cards = document.descendants().filter(|node| has_class(*node, "card")).count();
        assert_eq!(cards, job.combinations(), "{name}");
        let table = document.descendants().find(|node| has_class(*node, "options")).expect("the table");
        assert!(table.children().any(|node| node.has_tag_name("caption")));
        let rows = table.descendants().filter(|node| node.has_tag_name("tbody")).flat_map(|body| body.children());
        assert_eq!(rows.filter(|node| node.has_tag_name("tr")).count(), job.combinations(), "{name}");
        for head in table.descendants().filter(|node| node.has_tag_name("th") && !has_class(*node, "bar")) {
            assert!(head.attribute("scope").is_some(), "{name}: a head without scope");
        }
        let pictures = document.descendants().filter(|node| has_class(*node, "picture"));
        for picture in pictures {
            let title = picture.children().find(|node| node.has_tag_name("title")).and_then(|node| node.text());
            assert!(title.is_some_and(|title| title.len() > 10), "{name}: a picture without a name");
        }
    }
}

/// The titles of all pictures that a page holds.
fn titles<'d>(document: &'d Document<'d>) -> Vec<&'d str> {
    let pictures = document.descendants().filter(|node| has_class(*node, "picture"));
    let title =
        |node: Node<'d, 'd>| node.children().find(|node| node.has_tag_name("title")).and_then(|node| node.text());
    pictures.filter_map(title).collect()
}

#[test]
fn every_picture_is_on_the_page_once_and_all_of_those_one_chooses_between() {
    let job = demo("strong-minus");
    let comparison = Comparison::of(&job);
    let html = page(&job);
    let text = as_xml(&html);
    let document = Document::parse(&text).expect("valid XML");
    let titles = titles(&document);
    assert_eq!(titles.iter().collect::<BTreeSet<_>>().len(), titles.len(), "a picture is on the page twice");
    let pictures = Pictures::of(&comparison);
    let left = words::choosing(&comparison).expect("a choice").left;
    let whole: BTreeSet<usize> =
        left.iter().map(|left| left.index).chain(words::named(&comparison)).chain([0]).collect();
    for (index, drawn) in pictures.fits.iter().enumerate().filter_map(|(i, drawn)| Some((i, drawn.as_ref()?))) {
        for (_, picture) in drawn.all() {
            let wanted = whole.contains(&index) || matches!(picture.kind, "plan" | "map");
            assert_eq!(titles.contains(&picture.title.as_str()), wanted, "{}", picture.title);
        }
    }
    let again = document.descendants().filter(|node| has_class(*node, "again")).count();
    assert_eq!(again, 1 + words::named(&comparison).len());
}

#[test]
fn of_very_many_options_only_those_one_chooses_between_are_pictured() {
    let lens = |i: usize| {
        format!(
            "[[lens]]\nname = \"l{i}\"\nmaterial = {{ index = {}, abbe = 40, density = 1.3 }}\nmin_centre_mm = 1.2\n\
                 min_edge_mm = 1\n",
            1.5 + 0.01 * i as f64
        )
    };
    let lenses: String = (0..15).map(lens).collect();
    let job = job(&format!(
        "format = 1\n[prescription.right]\nsphere = -5\npd_mm = 32\n[prescription.left]\nsphere = -5\npd_mm = 32\n\
         [[frame]]\nname = \"F\"\nshape = \"oval\"\neye_sizes_mm = [46, 48, 50]\ndepth_mm = 36\nbridge_mm = 18\n\
         rim = \"metal\"\n{lenses}"
    ));
    let text = as_xml(&page(&job));
    let document = Document::parse(&text).expect("valid XML");
    let plans = document.descendants().filter(|node| has_class(*node, "picture-plan")).count();
    let cards = document.descendants().filter(|node| has_class(*node, "card")).count();
    let comparison = Comparison::of(&job);
    let left = words::choosing(&comparison).expect("a choice").left;
    let whole: BTreeSet<usize> = left.iter().map(|left| left.index).chain(words::named(&comparison)).collect();
    assert_eq!((cards, plans), (45, whole.len()));
    assert!(whole.len() < 10, "{whole:?}");
    assert!(text.contains("All others have their figures alone"));
}

#[test]
fn the_answer_comes_first_and_the_page_says_what_it_is_not() {
    let html = page(&demo("strong-minus"));
    let order = ["id=\"answer\"", "id=\"why\"", "id=\"all\"", "id=\"options\"", "id=\"method\"", "id=\"safety\""];
    let places: Vec<usize> = order.iter().map(|id| html.find(id).expect(id)).collect();
    assert!(places.is_sorted(), "{places:?}");
    for said in ["driving", "safety eyewear", "children", "tints", "licensed to dispense", "not measured"] {
        assert!(html.contains(said), "{said}");
    }
    assert!(html.contains("BK-1127, 2026-02-10"));
}

#[test]
fn the_words_on_safety_have_the_numbers_of_the_job() {
    let job = demo("strong-minus");
    let comparison = Comparison::of(&job);
    let html = page(&job).replace('\u{202f}', " ");
    let pairs = comparison.offered().filter_map(|(_, fit)| fit.pair());
    let thinnest = pairs.flat_map(|pair| [&pair.eyes.right, &pair.eyes.left]).map(|made| made.thickness.thinnest_mm);
    let thinnest = thinnest.reduce(f64::min).expect("lenses");
    assert!(html.contains(&format!("The thinnest place of the lenses here is {thinnest:.1} mm")), "{thinnest}");
    // Fresnel: index 1.595 and 1.800, both surfaces: 2R/(1 + R).
    assert!(html.contains("these lenses reflect 10.0 % to 15.1 % of the light"));
    // The wearer's words come first, the trade's after them.
    let [wearer, trade] =
        ["it can break into sharp pieces. <span class=\"trade\">Mineral glass", "about six bank cards"]
            .map(|said| html.contains(said));
    assert!(wearer && trade);
}

#[test]
fn what_a_job_calls_things_cannot_break_the_page() {
    let nasty = r#"</style><script>alert(1)</script>\"&"#;
    let text = format!(
        "format = 1\n[client]\nreference = '''{nasty}'''\n[prescription.right]\nsphere = -2\npd_mm = 32\n\
         [prescription.left]\nsphere = -2\npd_mm = 32\n[[frame]]\nname = '''<b>A & B'''\nshape = \"oval\"\n\
         eye_sizes_mm = [48]\ndepth_mm = 38\nbridge_mm = 18\nrim = \"metal\"\n[[lens]]\nname = '''\"thin\" <i>'''\n\
         material = \"resin-1.60\"\n"
    );
    let job = job(&text);
    let html = page(&job);
    assert!(!html.contains("<script") && !html.contains("<b>") && !html.contains("<i>"));
    assert!(Document::parse(&as_xml(&html)).is_ok());
    let files = folder::files(&Comparison::of(&job), &[]);
    let plan = files.keys().find(|name| name.starts_with("plan-")).expect("a plan");
    assert_eq!(plan, "plan--b-a---b-48--thin---i-.svg");
}

#[test]
fn the_folder_holds_what_was_promised() {
    let job = demo("strong-minus");
    let comparison = Comparison::of(&job);
    let files = folder::files(&comparison, &[]);
    let names: Vec<&str> = files.keys().map(String::as_str).collect();
    let wanted = [
        PAGE,
        SHEET,
        RESULT,
        "plan-now-55-now.svg",
        "plan-yarrow-46-thin.svg",
        "map-yarrow-46-thin-right.svg",
        "map-yarrow-46-thin-left.svg",
        "chart-edge-yarrow.svg",
        "chart-mass-tansy.svg",
    ];
    for name in wanted {
        assert!(names.contains(&name), "{name} is not in {names:?}");
    }
    assert_eq!(files.len(), 17 * job.combinations() - 1 + 4 * job.frames.len() + 6);
    for (name, bytes) in files.iter().filter(|(name, _)| name.ends_with(".svg")) {
        let text = std::str::from_utf8(bytes).expect("text");
        assert!(Document::parse(text).is_ok(), "{name}");
    }
}

/// The widest a picture may be: between the margins of A4.
const WIDEST_MM: f64 = 186.0;

#[test]
fn pictures_measure_true_on_paper() {
    let mut seen = 0;
    for name in DEMO_JOBS {
        let job = demo(name);
        let pictures = Pictures::of(&Comparison::of(&job));
        let fits = pictures.fits.iter().flatten();
        let of = |fit: &'_ FitPictures| [fit.plan.clone(), fit.maps.right.clone(), fit.maps.left.clone()];
        for picture in fits.flat_map(of).collect::<Vec<Picture>>() {
            assert!(picture.width_mm < WIDEST_MM, "{name}: {} is {} mm wide", picture.title, picture.width_mm);
            assert!(picture.title.ends_with("1 : 1"), "{}", picture.title);
            seen += 1;
        }
    }
    assert!(seen > 300, "{seen}");
}
