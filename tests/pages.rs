//! Pages that the program makes stand in the tree as it makes them.

#[test]
fn the_page_of_keys_is_the_registrys_own() {
    let kept = include_str!("../scenarios/KEYS.md");
    assert!(
        kept == sim::scenario::reference(),
        "scenarios/KEYS.md is stale: cargo run --example keys -- --write"
    );
}

#[test]
fn the_schema_for_editors_is_the_registrys_own() {
    let kept = include_str!("../scenarios/scenario.schema.json");
    assert!(
        kept == sim::scenario::schema(),
        "scenarios/scenario.schema.json is stale: cargo run --example keys -- --write"
    );
}
