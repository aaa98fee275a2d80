//! The schema for editors: it passes the example lawns and stops what an editor should stop. The
//! judge is a general validator of JSON Schema (draft-07), which knows nothing of lawns.

use jsonschema::Validator;
use serde_json::Value;
use swardplay::carried::EXAMPLES;

const THIN: &str = EXAMPLES[0].1;

fn validator() -> Validator {
    let schema: Value = serde_json::from_str(&sim::scenario::schema()).unwrap();
    jsonschema::draft7::meta::validate(&schema).unwrap_or_else(|fault| panic!("{fault}"));
    jsonschema::draft7::new(&schema).unwrap()
}

fn json(text: &str) -> Value {
    let table: toml::Table = toml::from_str(text).unwrap();
    serde_json::to_value(table).unwrap()
}

fn told(validator: &Validator, text: &str) -> Vec<String> {
    let all = json(text);
    validator.iter_errors(&all).map(|e| format!("{}: {e}", e.instance_path())).collect()
}

#[test]
fn every_example_passes_and_names_the_schema() {
    let validator = validator();
    for (name, text) in EXAMPLES {
        assert_eq!(told(&validator, text), [""; 0], "{name}");
        assert!(text.starts_with("#:schema ./scenario.schema.json\n"), "{name}");
    }
}

/// What the check accepts in other forms passes too.
#[test]
fn other_forms_of_values_pass() {
    let validator = validator();
    for (from, to) in [
        ("area = \"6000 ft2\"", "area = \"0.14ac\""),
        ("slope = \"3 %\"", "slope = [\"1:30\", \"2 deg\"]"),
        ("sun = \"full\" ", "sun = { low = \"half\", likely = \"most\", high = \"full\" } "),
        ("topsoil = \"6 in\"", "topsoil = [\"½ in\", \"6 in\"]"),
        ("hour-cost = \"25 $/h\"", "hour-cost = [\"$22/h\", \"$30/h\"]"),
        ("every = \"14 days\"", "every = 14"),
        ("on = [\"10 May\", \"10 Sep\"]", "on = \"May 10\""),
        ("split = \"8 weeks\"", "split = 56"),
        (
            "[program.change]]\npractice = \"mow\"\nevery = \"5 days\"",
            "[program.change]]\ndrop = \"feed\"",
        ),
        (
            "[crew]",
            "[constants]\nwater.crop_coefficient = [0.7, 0.9]\n\"sward.par_share\" = 0.5\n[crew]",
        ),
    ] {
        let text = swapped(from, to);
        assert_eq!(told(&validator, &text), [""; 0], "{to}");
        let products = include_str!("../scenarios/products.toml");
        assert!(sim::scenario::check(&text, products).is_ok(), "the check itself refuses {to}");
    }
}

#[test]
fn what_is_broken_is_stopped_where_it_stands() {
    let validator = validator();
    for (from, to, place) in [
        // Unknown keys.
        ("slope = \"3 %\"", "slop = \"3 %\"", "/lawn"),
        ("[crew]", "[crw]", ""),
        ("height = \"3 in\"", "height = \"3 in\"\ndepth = \"1 in\"", "/program/0/practice/0"),
        ("every = \"5 days\"", "evry = \"5 days\"", "/program/1/change/0"),
        // Wrong kinds.
        ("area = \"6000 ft2\"", "area = 6000", "/lawn/area"),
        ("area = \"6000 ft2\"", "area = \"6000\"", "/lawn/area"),
        ("ph = 6.3", "ph = \"6.3\"", "/lawn/soil/ph"),
        ("ph = 6.3", "ph = 63", "/lawn/soil/ph"),
        ("texture = \"loam\"", "texture = \"lome\"", "/lawn/soil/texture"),
        (
            "grass-cover = [\"50 %\", \"60 %\"]",
            "grass-cover = [\"50 %\"]",
            "/lawn/seen/grass-cover",
        ),
        ("seasons = 2", "seasons = 2.5", "/run/seasons"),
        (
            "hold = [\"windy 12 mph\", \"wet 0.5 in\"]",
            "hold = [\"gusty\"]",
            "/program/0/practice/1/hold/0",
        ),
        ("do = \"mow\"", "do = \"moww\"", "/program/0/practice/0/do"),
        // What must be there.
        ("area = \"6000 ft2\"\n", "", "/lawn"),
        ("title = \"A thin front lawn\"", "", ""),
        ("rate = \"0.5 lb ai/ac\"", "", "/program/0/practice/1"),
        ("practice = \"mow\"\n", "", "/program/1/change/0"),
        ("based-on = \"frequent\"", "", "/program/2"),
    ] {
        let text = swapped(from, to);
        let all = json(&text);
        let places: Vec<String> =
            validator.iter_errors(&all).map(|e| e.instance_path().to_string()).collect();
        assert!(!places.is_empty(), "{from} -> {to} passes");
        assert!(places.iter().any(|p| p == place), "{to:?} is told at {places:?}, not {place:?}");
    }
}

/// An editor completes the names of constants, and knows a sowing.
#[test]
fn constants_are_listed_and_a_sowing_is_known() {
    let schema: Value = serde_json::from_str(&sim::scenario::schema()).unwrap();
    for entry in sim::parameters::catalogue(sim::parameters::TEXT).unwrap() {
        let path = format!("/definitions/constants/properties/{}", entry.name);
        let at = schema.pointer(&path.replace('.', "/properties/"));
        let told = at.and_then(|constant| constant["description"].as_str());
        assert!(told.is_some_and(|t| t.contains(&entry.source)), "{}", entry.name);
    }
    let validator = validator();
    let constants = swapped("[crew]", "[constants]\nwater.crop_coefficient = \"1\"\n[crew]");
    assert_eq!(told(&validator, &constants).len(), 1);
    let sown = |method: &str| {
        format!(
            "{THIN}\n[[program]]\nid = \"sown\"\nbased-on = \"usual\"\n[program.change.add]\n\
             key = \"seed\"\ndo = \"overseed\"\nrate = \"3 lb/1000 ft2\"\non = \"1 Sep\"\n\
             method = \"{method}\"\nseed = [{{ kind = \"tall fescue\", share = \"100 %\" }}]\n"
        )
    };
    assert_eq!(told(&validator, &sown("slit")), [""; 0]);
    assert_eq!(told(&validator, &sown("drilled")).len(), 1);
}

fn swapped(from: &str, to: &str) -> String {
    assert!(THIN.contains(from), "the example has no {from:?}");
    THIN.replacen(from, to, 1)
}
