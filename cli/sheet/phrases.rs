//! Every phrase of a work sheet, in English and in the Spanish of United States lawn crews. The Spanish
//! has been read word for word but not by a licensed translator, and the sheet says so.
//!
//! `{}` stands for what is filled in, in order: the same things in both languages. A person's own
//! titles and keys, the names of products and the analyses stay as they are written: they are what
//! stands on the bag.

use clap::ValueEnum;
use sim::work::Why;

use crate::words::setback;

/// The language of a sheet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Lang {
    /// English
    #[default]
    En,
    /// Spanish, not checked by a licensed translator
    Es,
}

/// What can be said; the English phrase tells what each is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Say {
    // Head of the sheet.
    WorkSheet,
    Lawn,
    Care,
    LabelFirst,
    Planned,
    OneFuture,
    Typical,
    Asked,
    Replayed,
    Legend,
    // Columns and sums.
    Day,
    Work,
    Minutes,
    Cost,
    DoneByLeft,
    MonthSum,
    MonthOneVisit,
    SeasonSum,
    TravelIn,
    // What is done.
    MowLeave,
    MowBag,
    PreEmergent,
    Spread,
    Water,
    Topdress,
    SowBroadcast,
    SowRaked,
    SowSlit,
    SprayWeeds,
    SpraySpots,
    Core,
    Scarify,
    Kill,
    Level,
    Sod,
    Lime,
    Iron,
    Stimulate,
    Humic,
    Seaweed,
    Microbial,
    FeedStrip,
    WaterIn,
    SecondHalf,
    // When.
    OnDate,
    EveryDays,
    SoilTemperature,
    DegreeDays,
    CanopyHeight,
    DaysAfter,
    DrySoil,
    WeedCover,
    Fixed,
    Waits,
    About,
    // Holds.
    NotWhile,
    Hotter,
    RainComing,
    RainIn3Days,
    Wet,
    Dormant,
    Drier,
    Windy,
    Closed,
    NothingToCut,
    ShorterThan,
    Cooler,
    Calm,
    MownWithin,
    SprayedWithin,
    FewWeeds,
    GreenWithin,
    // How the dates spread.
    Between,
    HalfBy,
    PutOff,
    NotDone,
    NotNeeded,
    Times,
    TimesSame,
    DueOn,
    LeftUndone,
    AllOf,
    SoManyOf,
    FewerThan,
    MoreThan,
    // Loads.
    Load,
    Bags,
    TwoPasses,
    TwoWays,
    Tank,
    TankOne,
    TankEven,
    RunFor,
    Layer,
    Compost,
    Topsoil,
    TreatedShare,
    CalibrateUs,
    CalibrateMetric,
    ByClient,
    ByHouse,
    // Buying.
    ToBuy,
    Product,
    BagsOf,
    TypicalGear,
    // Headings.
    HowTo,
    Cautions,
    Caution,
    // Cautions.
    LabelIsLaw,
    Licensed,
    Gear,
    Sweep,
    Mower,
    NotChecked,
    PlanNote,
    MoreFutures,
    // The foot of a Spanish sheet.
    Foot,
}

impl Lang {
    /// The phrase.
    pub fn say(self, what: Say) -> &'static str {
        let [english, spanish] = both(what);
        match self {
            Lang::En => english,
            Lang::Es => spanish,
        }
    }

    /// The phrase with its gaps filled.
    pub fn fill(self, what: Say, gaps: &[&str]) -> String {
        let mut parts = self.say(what).split("{}");
        let mut out = parts.next().unwrap_or_default().to_string();
        for (part, gap) in parts.zip(gaps.iter().chain(std::iter::repeat(&""))) {
            out.push_str(gap);
            out.push_str(part);
        }
        out
    }

    /// What stood in the way of work.
    pub fn why(self, why: Why) -> &'static str {
        match self {
            Lang::En => setback::why(why),
            Lang::Es => why_in_spanish(why),
        }
    }

    /// As a page's `lang` has it.
    pub fn tag(self) -> &'static str {
        match self {
            Lang::En => "en",
            Lang::Es => "es",
        }
    }

    /// A month's name, 1..=12.
    pub fn month(self, month: u8) -> &'static str {
        let at = usize::from(month.clamp(1, 12)) - 1;
        match self {
            Lang::En => MONTHS[at].0,
            Lang::Es => MONTHS[at].1,
        }
    }

    /// Its first three letters.
    pub fn short_month(self, month: u8) -> &'static str {
        &self.month(month)[..3]
    }
}

impl Lang {
    /// What a caution of `vet` is about, by its code; `None` in English, which has the caution itself,
    /// and where the code is not known.
    pub fn about(self, code: &str) -> Option<&'static str> {
        if self == Lang::En {
            return None;
        }
        Some(match code {
            "low-cut" => "corta más bajo de lo que se acostumbra con este pasto.",
            "deep-compost" => "pone más de 1/2 in de una vez: ahoga el césped.",
            "much-nitrogen-at-once" => "pone más nitrógeno de una vez que los topes comunes.",
            "much-nitrogen-in-a-year" => "el programa pone mucho nitrógeno al año.",
            "product-note" => "el producto tiene un aviso propio.",
            "odd-sequence" => "el tiempo entre dos aplicaciones se sale de lo típico.",
            "much-active-in-a-year" => {
                "el programa pone más ingrediente activo al año que lo típico para el pasto más delicado."
            }
            "untypical-rate" => {
                "la dosis se sale de lo típico; revise si es de producto o de ingrediente activo."
            }
            "not-watered-in" => "depende de la lluvia para que el producto baje al suelo.",
            "late-barrier" => "llega tarde: el pasto cangrejo ya está saliendo.",
            "seed-not-kept-moist" => "depende de la lluvia para mantener húmeda la semilla.",
            "untypical-seed-rate" => "la cantidad de semilla se sale de lo común.",
            "seed-near-barrier" => "la semilla y el preemergente quedan muy cerca uno del otro.",
            "looser-label" => {
                "las cifras de etiqueta que se dieron son menos estrictas que las típicas: rigen las más estrictas."
            }
            "much-active-at-once" => {
                "pone más ingrediente activo de una vez que lo que aguanta el pasto más delicado."
            }
            "many-sprays-in-a-year" => "se aplica más veces al año que lo típico.",
            "no-typical-figures" => {
                "no hay cifras típicas de este producto: solo cuentan las de la etiqueta."
            }
            "barrier-on-compost" => "la composta fresca retiene parte del preemergente.",
            "barrier-on-fertilizer" => {
                "el producto trae fertilizante: su nitrógeno no está contado en esta hoja."
            }
            "granules-on-wet-leaf" => {
                "los gránulos van sobre hojas secas: en hojas mojadas queman."
            }
            "hurts-grass" => "este producto daña a uno de los pastos de este césped.",
            "seed-near-spray" => "la semilla y el herbicida quedan muy cerca uno del otro.",
            "never-happens" => "así como está, esto no llega a hacerse, o casi nunca.",
            "local-rule" => "no cuadra con las reglas del lugar.",
            _ => return None,
        })
    }
}

fn why_in_spanish(why: Why) -> &'static str {
    match why {
        Why::Forgotten => "no vino nadie",
        Why::Late => "se llegó tarde",
        Why::NoVisitDay => "no había día de visita",
        Why::Frozen => "suelo helado o nieve",
        Why::Wet => "suelo mojado",
        Why::RainComing => "venía lluvia",
        Why::Heat => "calor",
        Why::Wind => "viento",
        Why::Dormant => "césped dormido",
        Why::Dry => "suelo seco",
        Why::Closed => "veda",
        Why::FertilizerClosed => "ley local: veda de fertilizante",
        Why::PesticideClosed => "ley local: veda de pesticidas",
        Why::WaterDay => "ley local: ese día no se riega",
        Why::FertilizerRain => "ley local: nada de fertilizante antes de lluvia fuerte",
        Why::Event => "un evento",
        Why::Short => "muy bajo para cortar",
        Why::Cold => "frío",
        Why::Calm => "aire demasiado quieto",
        Why::Mown => "recién cortado",
        Why::Sprayed => "recién aplicado",
        Why::FewWeeds => "pocas malezas",
        Why::GreenEnough => "tan verde como la franja de referencia",
    }
}

const MONTHS: [(&str, &str); 12] = [
    ("January", "enero"),
    ("February", "febrero"),
    ("March", "marzo"),
    ("April", "abril"),
    ("May", "mayo"),
    ("June", "junio"),
    ("July", "julio"),
    ("August", "agosto"),
    ("September", "septiembre"),
    ("October", "octubre"),
    ("November", "noviembre"),
    ("December", "diciembre"),
];

/// English, Spanish.
#[expect(clippy::too_many_lines, reason = "a table, a phrase a line")]
fn both(what: Say) -> [&'static str; 2] {
    match what {
        Say::WorkSheet => ["Work sheet {}", "Hoja de trabajo {}"],
        Say::Lawn => ["Lawn: {}, {}", "Césped: {}, {}"],
        Say::Care => ["Program: {}", "Programa: {}"],
        Say::LabelFirst => [
            "The product label and local law come first. Cautions stand below the work.",
            "La etiqueta del producto y la ley local van primero. Los avisos están debajo del trabajo.",
        ],
        Say::Planned => [
            "Crew visits: {}. Work: {} h, {} h of it travel and set-up. Cost: {}.",
            "Visitas de la cuadrilla: {}. Trabajo: {} h, de ellas {} h de traslado y preparación. Costo: {}.",
        ],
        Say::OneFuture => [
            "Days are those of simulated future {} of {} (seed {}), {}.",
            "Los días son los del futuro simulado {} de {} (semilla {}), {}.",
        ],
        Say::Typical => ["the most typical one", "el más típico"],
        Say::Asked => ["the one that was asked for", "el que se pidió"],
        Say::Replayed => [
            "The weather is that of the station record from {} on, replayed.",
            "El tiempo es el del registro de la estación desde {}, repetido.",
        ],
        Say::Legend => [
            "A day alone is fixed by the calendar; \u{201c}about\u{201d} waits for its cue and moves with the weather.",
            "Un día solo lo fija el calendario; \u{201c}hacia\u{201d} espera su señal y se mueve con el tiempo.",
        ],
        Say::Day => ["Day", "Día"],
        Say::Work => ["Work, in order, and what to load", "Trabajo, en orden, y qué cargar"],
        Say::Minutes => ["Time", "Tiempo"],
        Say::Cost => ["Cost", "Costo"],
        Say::DoneByLeft => ["Done on / by / left over", "Hecho el / por / sobrante"],
        Say::MonthSum => ["{} visits, {} h, {}", "{} visitas, {} h, {}"],
        Say::MonthOneVisit => ["{} visit, {} h, {}", "{} visita, {} h, {}"],
        Say::SeasonSum => ["Season {}", "Temporada {}"],
        Say::TravelIn => [
            "Minutes of one person; each visit holds {} min of travel and set-up.",
            "Minutos de una persona; cada visita incluye {} min de traslado y preparación.",
        ],
        Say::MowLeave => {
            ["mow at {}, leave the clippings", "cortar el césped a {}, dejar los recortes"]
        }
        Say::MowBag => {
            ["mow at {}, bag the clippings", "cortar el césped a {}, embolsar los recortes"]
        }
        Say::PreEmergent => [
            "crabgrass barrier (pre-emergent), {}",
            "preemergente contra el pasto cangrejo (crabgrass), {}",
        ],
        Say::Spread => ["fertilizer {}", "fertilizante {}"],
        Say::Water => ["water {} deep", "regar {} de agua"],
        Say::Topdress => ["topdress with compost, {} deep", "cubrir con composta, capa de {}"],
        Say::SowBroadcast => ["sow {}, thrown on top", "sembrar {}, al voleo"],
        Say::SowRaked => ["sow {} and rake it in", "sembrar {} y rastrillar"],
        Say::SowSlit => [
            "sow {} with a slit seeder, or after coring",
            "sembrar {} con sembradora de ranuras (slit seeder), o después de airear",
        ],
        Say::SprayWeeds => ["spray weeds, {}", "aplicar herbicida a las malezas, {}"],
        Say::SpraySpots => [
            "spray weeds where you see them, {} (as much as their spots usually take)",
            "aplicar herbicida solo donde haya malezas, {} (lo que suelen llevar esas manchas)",
        ],
        Say::Core => {
            ["core with hollow tines, {} deep", "airear con sacabocados (core), a {} de hondo"]
        }
        Say::Scarify => {
            ["scarify (comb thatch out), {} deep", "escarificar (sacar el fieltro), a {} de hondo"]
        }
        Say::Kill => ["kill all that is green, {}", "matar todo lo verde, {}"],
        Say::Level => ["level with topsoil, {} deep", "nivelar con tierra, capa de {}"],
        Say::Sod => ["lay sod", "poner césped en rollo (sod)"],
        Say::Lime => ["spread {}", "esparcir {}"],
        Say::Iron => ["iron for colour, {}", "hierro para el color, {}"],
        Say::Stimulate => ["{} (thin evidence)", "{} (poca evidencia)"],
        Say::Humic => ["a humic product", "un producto húmico"],
        Say::Seaweed => ["a seaweed extract", "un extracto de algas"],
        Say::Microbial => ["a microbial product", "un producto microbiano"],
        Say::FeedStrip => {
            ["feed the reference strip double", "fertilizar al doble la franja de referencia"]
        }
        Say::WaterIn => ["then water in, {} deep: {}", "después regar {} de agua: {}"],
        Say::SecondHalf => ["{}, second half", "{}, segunda mitad"],
        Say::OnDate => ["on {}", "el {}"],
        Say::EveryDays => [
            "every {} days, counted from the last one, {} to {}",
            "cada {} días, contados desde la última vez, del {} al {}",
        ],
        Say::SoilTemperature => [
            "when the soil at 2 in (5 cm) has stood at {} for {} days, {} to {}",
            "cuando el suelo a 2 in (5 cm) lleve {} o más por {} días, del {} al {}",
        ],
        Say::DegreeDays => [
            "when {} above {} have come together, {} to {}",
            "cuando se junten {} sobre {}, del {} al {}",
        ],
        Say::CanopyHeight => [
            "when the grass stands {} high, {} to {}, {} days apart or more",
            "cuando el césped tenga {} de alto, del {} al {}, con {} días o más entre dos",
        ],
        Say::DaysAfter => [
            "{} days after the day on which \u{201c}{}\u{201d} is done",
            "{} días después del día en que se haga \u{201c}{}\u{201d}",
        ],
        Say::DrySoil => [
            "when the water in reach of the roots is down to {}, {} to {}, {} days apart or more",
            "cuando el agua al alcance de las raíces baje a {}, del {} al {}, con {} días o más entre dos",
        ],
        Say::WeedCover => [
            "when weeds ({}) cover {} of the lawn, {} to {}, {} days apart or more",
            "cuando las malezas ({}) cubran {} del césped, del {} al {}, con {} días o más entre dos",
        ],
        Say::Fixed => ["fixed by the calendar", "fijo en el calendario"],
        Say::Waits => ["waits for its cue", "espera su señal"],
        Say::About => ["about {}", "hacia el {}"],
        Say::NotWhile => ["Not while: {}.", "No se hace si: {}."],
        Say::Hotter => ["{} or hotter", "hace {} o más"],
        Say::RainComing => ["{} of rain promised for the day", "anuncian {} de lluvia para el día"],
        Say::RainIn3Days => {
            ["{} of rain promised within three days", "anuncian {} de lluvia en tres días"]
        }
        Say::Wet => ["over {} of rain the day before", "llovió más de {} el día antes"],
        Say::Dormant => ["grass dormant from drought", "césped dormido por sequía"],
        Say::Drier => ["soil water down to {}", "agua del suelo en {} o menos"],
        Say::Windy => ["wind {} or more", "viento de {} o más"],
        Say::Closed => ["closed season {} to {}", "veda del {} al {}"],
        Say::NothingToCut => {
            ["grass no taller than the height of cut", "césped no más alto que el corte"]
        }
        Say::ShorterThan => ["grass no taller than {}", "césped no más alto que {}"],
        Say::Cooler => ["{} or cooler", "{} o más frío"],
        Say::Calm => ["still air, {} or less", "aire quieto, {} o menos"],
        Say::MownWithin => ["mown less than {} days before", "cortado hace menos de {} días"],
        Say::SprayedWithin => {
            ["weeds sprayed less than {} days before", "herbicida aplicado hace menos de {} días"]
        }
        Say::FewWeeds => ["its weeds cover {} or less", "sus malezas cubren {} o menos"],
        Say::GreenWithin => [
            "less than {} points paler than the fed strip",
            "menos de {} puntos más pálido que la franja fertilizada",
        ],
        Say::Between => ["{} in {} futures", "{} en {} futuros"],
        Say::HalfBy => ["half by {}", "la mitad hasta el {}"],
        Say::PutOff => ["put off in {}", "aplazado en {}"],
        Say::NotDone => ["not done in {}", "sin hacer en {}"],
        Say::NotNeeded => ["not needed in {}", "no hizo falta en {}"],
        Say::Times => [
            "{} times on this sheet, {} to {} in nine of ten futures",
            "{} veces en esta hoja, de {} a {} en nueve de diez futuros",
        ],
        Say::TimesSame => [
            "{} times on this sheet, {} in nine of ten futures",
            "{} veces en esta hoja, {} en nueve de diez futuros",
        ],
        Say::DueOn => ["due {}, put off: {}", "tocaba el {}, aplazado: {}"],
        Say::LeftUndone => [
            "left undone in this future ({}); see that it is done",
            "quedó sin hacer en este futuro ({}); cuide que se haga",
        ],
        Say::AllOf => ["all {}", "los {}"],
        Say::SoManyOf => ["{} of {}", "{} de {}"],
        Say::FewerThan => ["fewer than 1 of {}", "menos de 1 de {}"],
        Say::MoreThan => ["more than {} of {}", "más de {} de {}"],
        Say::Load => ["load {}", "cargar {}"],
        Say::Bags => ["{} bag of {}", "{} bolsa de {}"],
        Say::TwoPasses => [
            "Spreader: two passes crosswise, {} in each; {} wide, so {} times across a square lawn of this size, each way.",
            "Abonadora: dos pasadas cruzadas, {} en cada una; {} de ancho, o sea {} vueltas en un césped cuadrado de este tamaño, en cada sentido.",
        ],
        Say::TwoWays => [
            "Slit seeder: two ways crosswise, {} in each.",
            "Sembradora de ranuras: dos pasadas cruzadas, {} en cada una.",
        ],
        Say::Tank => [
            "Sprayer: {} of mix in all, at {}. Full tanks of {}: {}, with {} in each; then one of {} with {}.",
            "Rociadora: {} de mezcla en total, a {}. Tanques llenos de {}: {}, con {} en cada uno; luego uno de {} con {}.",
        ],
        Say::TankOne => [
            "Sprayer: one fill of {} of mix, at {}, with {}.",
            "Rociadora: una carga de {} de mezcla, a {}, con {}.",
        ],
        Say::TankEven => [
            "Sprayer: {} of mix in all, at {}. Full tanks of {}: {}, with {} in each.",
            "Rociadora: {} de mezcla en total, a {}. Tanques llenos de {}: {}, con {} en cada uno.",
        ],
        Say::RunFor => ["{} min of sprinklers at {}", "{} min de aspersores a {}"],
        Say::Layer => ["{} of {}", "{} de {}"],
        Say::Topsoil => ["topsoil", "tierra"],
        Say::Compost => ["compost", "composta"],
        Say::TreatedShare => [
            "Goes on {}: the strip beside water is left out.",
            "Va en {}: se deja libre la franja junto al agua.",
        ],
        Say::CalibrateUs => [
            "Check the sprayer with water: time a plot of 18.5 x 18.4 ft (1/128 acre), catch the spray for that time; {} fl oz caught are {} gal/ac, which is {}.",
            "Revise la rociadora con agua: mida el tiempo en un cuadro de 18.5 x 18.4 ft (1/128 de acre) y recoja el agua ese mismo tiempo; {} fl oz recogidas son {} gal/ac, o sea {}.",
        ],
        Say::CalibrateMetric => [
            "Check the sprayer with water: time a plot of 10 m2, catch the spray for that time; {} mL caught are {} L/ha, which is {}.",
            "Revise la rociadora con agua: mida el tiempo en un cuadro de 10 m2 y recoja el agua ese mismo tiempo; {} mL recogidos son {} L/ha, o sea {}.",
        ],
        Say::ByClient => ["the client does it", "lo hace el cliente"],
        Say::ByHouse => ["whoever lives there does it", "lo hace quien vive ahí"],
        Say::ToBuy => ["To buy for this lawn", "Para comprar, solo para este césped"],
        Say::Product => ["Product", "Producto"],
        Say::BagsOf => ["{}; bags of {}: {}", "{}; bolsas de {}: {}"],
        Say::TypicalGear => [
            "Typical, for want of yours ([gear] in the scenario, or --tank): {}.",
            "Valores típicos, a falta de los suyos ([gear] en el escenario, o --tank): {}.",
        ],
        Say::HowTo => ["How each job is done", "Cómo se hace cada trabajo"],
        Say::Cautions => ["Before you start", "Antes de empezar"],
        Say::Caution => ["Caution", "Aviso"],
        Say::LabelIsLaw => [
            "Read the label first and follow it: it is the law. Rates here come from the program or are typical; nobody has held them against your label. Local law may ask for less, or forbid.",
            "Lea primero la etiqueta y sígala: es la ley. Las dosis de esta hoja vienen del programa o son típicas; nadie las ha comparado con su etiqueta. La ley local puede pedir menos, o prohibir.",
        ],
        Say::Licensed => [
            "Where the law asks for a licensed applicator, only that person mixes and applies.",
            "Donde la ley pide un aplicador con licencia, solo esa persona mezcla y aplica.",
        ],
        Say::Gear => [
            "Wear the protective gear that the label names. Keep people and pets off until the lawn is dry and the label lets them back.",
            "Use el equipo de protección que nombra la etiqueta. Que no entren personas ni mascotas hasta que el césped esté seco y la etiqueta lo permita.",
        ],
        Say::Sweep => [
            "Sweep granules off pavement back onto the lawn. Nothing into drains, ditches or open water.",
            "Barra los gránulos del pavimento y regréselos al césped. Nada a drenajes, zanjas ni aguas abiertas.",
        ],
        Say::Mower => [
            "Mower: clear the lawn of stones and people, sturdy shoes, eyes and ears protected, engine off before a hand goes near the deck.",
            "Podadora: quite piedras y aleje a la gente, zapatos fuertes, ojos y oídos protegidos, motor apagado antes de acercar la mano a las cuchillas.",
        ],
        Say::NotChecked => [
            "Not checked: licences, local law beyond what the scenario states, whether a product is registered where the lawn is.",
            "No se ha revisado: licencias, ley local fuera de lo que dice el escenario, ni si el producto está registrado donde está el césped.",
        ],
        Say::PlanNote => [
            "Amounts, minutes and cost are those of the program as written, with no slips of the hand.",
            "Las cantidades, los minutos y el costo son los del programa como está escrito, sin errores de mano.",
        ],
        Say::MoreFutures => [
            "With {} futures the counts are rough; --members 200 makes them finer.",
            "Con {} futuros las cuentas son gruesas; --members 200 las afina.",
        ],
        Say::Foot => [
            "The Spanish on this sheet was not checked by a licensed translator. The English label is the law.",
            "El español de esta hoja no fue revisado por un traductor con licencia. La etiqueta en inglés es la ley.",
        ],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gaps_are_filled_in_order_and_the_same_number_in_both_languages() {
        assert_eq!(Lang::En.fill(Say::SoManyOf, &["18", "20"]), "18 of 20");
        assert_eq!(Lang::Es.fill(Say::SoManyOf, &["18", "20"]), "18 de 20");
        for what in [
            Say::WorkSheet,
            Say::Planned,
            Say::OneFuture,
            Say::EveryDays,
            Say::SoilTemperature,
            Say::DegreeDays,
            Say::CanopyHeight,
            Say::DaysAfter,
            Say::DrySoil,
            Say::TwoPasses,
            Say::Tank,
            Say::TankOne,
            Say::TankEven,
            Say::CalibrateUs,
            Say::CalibrateMetric,
            Say::BagsOf,
        ] {
            let [english, spanish] = both(what);
            assert_eq!(english.matches("{}").count(), spanish.matches("{}").count(), "{english}");
        }
    }

    #[test]
    fn months_are_cut_between_letters() {
        for month in 1..=12 {
            assert_eq!(Lang::En.short_month(month).len(), 3);
            assert_eq!(Lang::Es.short_month(month).len(), 3);
        }
        assert_eq!(Lang::Es.short_month(8), "ago");
    }
}
