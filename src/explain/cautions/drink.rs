//! What the drink as a whole asks for: alcohol, caffeine, polyols.

use super::{Caution, Topic};
use crate::brief::Brief;
use crate::larder::{self, Solid};
use crate::liquid::ethanol;
use crate::quantity::number;
use crate::solve::Spec;

/// Ethanol per serve from which a drink is called strong, g: two and a half UK units.
/// Common practice, no source.
const STRONG_SERVE: f64 = 20.0;
/// A UK unit of alcohol is 10 ml of ethanol (UK Chief Medical Officers' guidelines, 2016).
const UNIT_OF_ALCOHOL: f64 = 10.0 * ethanol::PURE;
/// Caffeine from which a drink is labelled as high in it, mg/L (EU 1169/2011 Annex III, 4.1).
const HIGH_CAFFEINE: f64 = 150.0;
/// Share of added polyols, by mass, from which the laxative statement is due (EU 1169/2011 Annex III, 2.4).
const MANY_POLYOLS: f64 = 0.10;

/// A strong serve.
pub fn strong(spec: &Spec) -> Option<Caution> {
    let grams = spec.served.drink.masses.ethanol;
    (grams > STRONG_SERVE).then(|| Caution {
        topic: Topic::Ethanol,
        text: format!(
            "A strong serve: {} g of ethanol, {} UK units. Say so on the menu and serve it as your licence asks.",
            number::fixed(grams, 1),
            number::fixed(grams / UNIT_OF_ALCOHOL, 1)
        ),
    })
}

/// Much caffeine.
pub fn caffeine(brief: &Brief, spec: &Spec) -> Option<Caution> {
    let per_litre = larder::caffeine_per_litre(brief, &spec.pours, &spec.served);
    (per_litre > HIGH_CAFFEINE).then(|| Caution {
        topic: Topic::Caffeine,
        text: format!(
            "{} mg of caffeine per litre: over 150 mg/L EU 1169/2011 Annex III asks for a statement of high \
             caffeine content; the US regulator has objected to caffeine added to alcohol (FDA, 2010).",
            number::fixed(per_litre, 0)
        ),
    })
}

/// Many polyols.
pub fn polyols(brief: &Brief, spec: &Spec) -> Option<Caution> {
    let grams = *larder::solids(brief, &spec.pours).get(&Solid::Polyol)?;
    (grams > MANY_POLYOLS * spec.served.drink.masses.total()).then(|| Caution {
        topic: Topic::Polyols,
        text: format!(
            "{} g of polyols, over 10 % of the drink: EU 1169/2011 Annex III asks for the statement that \
             excessive consumption may produce laxative effects.",
            number::fixed(grams, 0)
        ),
    })
}
