//! The published measures of reading level, in the order of a report, and where the facts of each stand.

use super::facts::Facts;
use super::{dale_chall, flesch, flesch_abroad, hard_words, letter_counts, long_words, spache, wiener};
use crate::text::language::Language;

/// A published measure of reading level.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Formula {
    /// Flesch 1948.
    FleschReadingEase,
    /// Kincaid and others 1975.
    FleschKincaidGrade,
    /// Smith and Senter 1967.
    AutomatedReadabilityIndex,
    /// Coleman and Liau 1975.
    ColemanLiauIndex,
    /// Gunning 1952.
    GunningFog,
    /// McLaughlin 1969.
    Smog,
    /// Dale and Chall 1948.
    DaleChall1948,
    /// Chall and Dale 1995.
    NewDaleChallCloze,
    /// Spache 1953.
    Spache1953,
    /// Spache 1974.
    SpacheRevised,
    /// Caylor and others 1973.
    Forcast,
    /// Björnsson 1968; any language.
    Lix,
    /// Anderson 1983; any language.
    Rix,
    /// Fernández Huerta 1959; Spanish.
    FernandezHuerta,
    /// Szigriszt Pazos 1993; Spanish.
    SzigrisztPazos,
    /// Kandel and Moles 1958 in the form with 209; French.
    KandelMoles209,
    /// Kandel and Moles 1958 in the form with 207; French.
    KandelMoles207,
    /// Amstad 1978; German.
    Amstad,
    /// Bamberger and Vanecek 1984, the first formula; German.
    Wiener1,
    /// Bamberger and Vanecek's second formula.
    Wiener2,
    /// Bamberger and Vanecek's third formula.
    Wiener3,
    /// Bamberger and Vanecek's fourth formula.
    Wiener4,
    /// Lucisano and Piemontese 1988; Italian.
    Gulpease,
    /// Douma 1960; Dutch.
    Douma,
    /// Brouwer 1963; Dutch.
    Brouwer,
}

impl Formula {
    /// How many of [`Formula::ALL`] are shown for every language: those for English and those for any, which come
    /// first.
    pub(super) const FOR_ALL: usize = 13;

    /// Every formula, in the order of a report.
    pub const ALL: [Self; 25] = [
        Self::FleschReadingEase,
        Self::FleschKincaidGrade,
        Self::AutomatedReadabilityIndex,
        Self::ColemanLiauIndex,
        Self::GunningFog,
        Self::Smog,
        Self::DaleChall1948,
        Self::NewDaleChallCloze,
        Self::Spache1953,
        Self::SpacheRevised,
        Self::Forcast,
        Self::Lix,
        Self::Rix,
        Self::FernandezHuerta,
        Self::SzigrisztPazos,
        Self::KandelMoles209,
        Self::KandelMoles207,
        Self::Amstad,
        Self::Wiener1,
        Self::Wiener2,
        Self::Wiener3,
        Self::Wiener4,
        Self::Gulpease,
        Self::Douma,
        Self::Brouwer,
    ];

    /// The formulas to show for a language: those for English, those for any, and the language's own.
    pub fn shown_for(language: Language) -> impl Iterator<Item = Self> {
        let (for_all, others) = const { &Self::ALL }.split_at(Self::FOR_ALL);
        let others = if language == Language::English { &[] } else { others };
        let own = others.iter().filter(move |formula| formula.facts().language == Some(language));
        for_all.iter().chain(own).copied()
    }

    /// What is published about the formula.
    pub fn facts(self) -> &'static Facts {
        match self {
            Self::FleschReadingEase => &flesch::READING_EASE,
            Self::FleschKincaidGrade => &flesch::KINCAID_GRADE,
            Self::AutomatedReadabilityIndex => &letter_counts::AUTOMATED_READABILITY_INDEX,
            Self::ColemanLiauIndex => &letter_counts::COLEMAN_LIAU_INDEX,
            Self::GunningFog => &hard_words::GUNNING_FOG,
            Self::Smog => &hard_words::SMOG,
            Self::DaleChall1948 => &dale_chall::DALE_CHALL_1948,
            Self::NewDaleChallCloze => &dale_chall::NEW_DALE_CHALL_CLOZE,
            Self::Spache1953 => &spache::SPACHE_1953,
            Self::SpacheRevised => &spache::SPACHE_REVISED,
            Self::Forcast => &hard_words::FORCAST,
            Self::Lix => &long_words::LIX,
            Self::Rix => &long_words::RIX,
            Self::FernandezHuerta => &flesch_abroad::FERNANDEZ_HUERTA,
            Self::SzigrisztPazos => &flesch_abroad::SZIGRISZT_PAZOS,
            Self::KandelMoles209 => &flesch_abroad::KANDEL_MOLES_209,
            Self::KandelMoles207 => &flesch_abroad::KANDEL_MOLES_207,
            Self::Amstad => &flesch_abroad::AMSTAD,
            Self::Wiener1 => &wiener::FIRST,
            Self::Wiener2 => &wiener::SECOND,
            Self::Wiener3 => &wiener::THIRD,
            Self::Wiener4 => &wiener::FOURTH,
            Self::Gulpease => &letter_counts::GULPEASE,
            Self::Douma => &flesch_abroad::DOUMA,
            Self::Brouwer => &flesch_abroad::BROUWER,
        }
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::{Formula, Language};
    use crate::level::counts::Counts;

    #[test]
    fn each_formula_has_a_key_of_its_own_and_its_readings_in_order() {
        let keys: BTreeSet<&str> = Formula::ALL.into_iter().map(|formula| formula.facts().key).collect();
        assert_eq!(keys.len(), Formula::ALL.len());
        for formula in Formula::ALL {
            let facts = formula.facts();
            assert!(facts.readings.is_sorted_by(|one, next| one.0 < next.0), "{}", facts.key);
            assert!(!facts.counting.is_empty() && !facts.source.is_empty() && !facts.counts.is_empty());
        }
    }

    #[test]
    fn nothing_counted_has_no_value() {
        assert!(Formula::ALL.into_iter().all(|formula| formula.facts().value(&Counts::default()).is_none()));
    }

    #[test]
    fn a_language_has_its_own_formulas_and_those_for_all() {
        let is_for_all = |formula: Formula| formula.facts().language.is_none_or(|own| own == Language::English);
        assert_eq!(Formula::ALL.map(is_for_all), std::array::from_fn(|at| at < Formula::FOR_ALL));
        assert_eq!(Formula::shown_for(Language::English).count(), 13);
        assert_eq!(Formula::shown_for(Language::German).count(), 18);
        assert_eq!(Formula::shown_for(Language::Other).last(), Some(Formula::Rix));
    }
}
