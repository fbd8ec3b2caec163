//! Whether a list's wording leaves a sentence its sense and its grammar: what stands round a phrase can forbid it.
//!
//! A wording is right by itself or it would not be on a list. This file asks what a wording does in its place: whether
//! it leaves a preposition or a relative hanging, a verb without its subject or in another form, a noun with an adverb
//! before it, or a stress unsaid. In doubt there is no wording, for the query says enough. Source: common practice of
//! editors; each check came of a sentence that was read and would not have been signed.

use std::ops::Range;

use super::adjectives::is_adjective;
use super::prose::{Prose, is_shouted};
use super::verbs::{is_base, is_finite};

/// Words that want another behind them.
const HANGING: [&str; 69] = [
    "a", "an", "the", "of", "to", "for", "from", "with", "without", "by", "at", "in", "into", "on", "onto", "as",
    "than", "and", "or", "but", "nor", "because", "although", "if", "when", "while", "that", "which", "who", "whose",
    "is", "are", "was", "were", "be", "am", "has", "have", "had", "can", "cannot", "could", "must", "will", "would",
    "should", "may", "might", "not", "about", "before", "after", "during", "between", "near", "despite", "except",
    "besides", "every", "each", "my", "your", "her", "his", "its", "our", "their", "these", "those",
];
/// Words that want a noun, not one of the little words, behind them.
const DETERMINERS: [&str; 13] =
    ["my", "your", "her", "his", "its", "our", "their", "the", "these", "those", "every", "each", "both"];
/// Little words that no noun begins with.
const NO_NOUN: [&str; 40] = [
    "and", "or", "but", "nor", "to", "of", "in", "on", "at", "by", "for", "from", "with", "as", "than", "that",
    "which", "who", "when", "while", "if", "because", "so", "is", "are", "was", "were", "be", "has", "have", "had",
    "can", "could", "will", "would", "must", "may", "might", "before", "after",
];
/// Relatives and their kin: no sentence begins with one of these once the words that it refers to are gone.
const RELATIVES: [&str; 9] = ["which", "who", "whom", "whose", "that", "of", "and", "or", "but"];
/// Words that an `a` or `an` right behind them is bound to: `such a number of`, `not a great many`.
const BEFORE_ARTICLE: [&str; 10] = ["what", "such", "quite", "rather", "half", "many", "not", "no", "too", "so"];
/// Words of degree, which go with an adjective and not with a noun.
const DEGREES: [&str; 20] = [
    "more", "most", "less", "least", "very", "so", "too", "as", "how", "quite", "rather", "pretty", "well", "much",
    "all", "brand", "even", "far", "somewhat", "such",
];
const MODALS: [&str; 23] = [
    "will", "would", "shall", "should", "may", "might", "must", "can", "could", "cannot", "can't", "won't", "couldn't",
    "wouldn't", "to", "do", "does", "did", "don't", "doesn't", "didn't", "let", "let's",
];
const HAVE: [&str; 10] = ["has", "have", "had", "having", "is", "are", "was", "were", "be", "been"];
/// Words that stand before a verb and are not its subject: the subject stands behind the verb.
const NO_SUBJECTS: [&str; 20] = [
    "there", "here", "now", "then", "today", "tonight", "where", "when", "what", "how", "inside", "outside", "nor",
    "so", "neither", "only", "below", "above", "behind", "beyond",
];
/// Prepositions with which a sentence begins whose subject may stand behind its verb: `In the tower is a lamp`.
const PLACES: [&str; 15] = [
    "in", "on", "at", "under", "behind", "beneath", "inside", "above", "beside", "among", "between", "near", "over",
    "within", "beyond",
];
/// Pasts that differ from the participle: `has began` is wrong.
const PASTS: [&str; 4] = ["began", "chose", "knew", "took"];
/// Bases that are pasts or participles too: `he put`, `has come`.
const BASES: [&str; 2] = ["put", "come"];
/// Words that say what a doublet's verb has done to something: `blinked his eyes open`.
const RESULTS: [&str; 8] = ["enough", "open", "shut", "closed", "clear", "dry", "free", "wide"];

/// Phrases that mean something else behind certain words: each with how far before it these may stand, in words, and
/// which they are.
const BOUND: [(&str, usize, &[&str]); 7] = [
    ("numerous", 1, &["more", "most", "less", "least", "as", "how"]),
    ("has got to", 4, &["what", "nothing", "something", "anything", "everything", "all", "lot", "much"]),
    ("have got to", 4, &["what", "nothing", "something", "anything", "everything", "all", "lot", "much"]),
    ("in an attempt to", 2, ATTEMPTS),
    ("in an effort to", 2, ATTEMPTS),
    // `In the end results matter`: the phrase goes with what stands before it.
    ("end result", 2, &["in"]),
    ("end results", 2, &["in"]),
];
const ATTEMPTS: &[&str] = &[
    "succeed",
    "succeeds",
    "succeeded",
    "fail",
    "fails",
    "failed",
    "join",
    "joins",
    "joined",
    "united",
    "up",
    "caught",
    "involved",
    "engaged",
    "trapped",
    "locked",
    "interested",
    "hurt",
    "killed",
    "lost",
    "part",
];
/// More words than this must be left between two marks: an article and a noun say too little by themselves.
const FEWEST: usize = 2;
const PRONOUNS: [&str; 7] = ["i", "you", "he", "she", "it", "we", "they"];
/// Shorter words are no nouns that a verb is hidden in.
const SHORTEST_NOUN: usize = 3;
/// Wordings that mean something else where a sentence begins, or are clumsy there.
const NEVER_FIRST: [&str; 2] = ["yet", "about"];

/// A phrase in its place, with a wording for it.
pub(super) struct Rewording<'a> {
    /// The paragraph that the phrase stands in.
    pub(super) prose: &'a Prose<'a>,
    /// The phrase's words, as positions in the paragraph.
    pub(super) words: Range<usize>,
    /// What would stand there; nothing where the phrase goes.
    pub(super) wording: &'a str,
}

impl Rewording<'_> {
    /// Whether the change keeps the stress, leaves nothing hanging, and suits the words beside it, whatever the rule.
    /// No change of words reaches into verse, whose metre it would break.
    pub(super) fn is_sound(&self) -> bool {
        !self.prose.is_verse
            && !self.has_stress()
            && !self.leaves_hanging()
            && !self.begins_badly()
            && !self.breaks_article()
            && !self.leaves_bare_noun()
    }

    /// Whether the change keeps the sense of a listed phrase: its verbs keep their subject and form.
    pub(super) fn keeps_sense(&self) -> bool {
        !self.is_bound()
            && !self.doubles_modal()
            && !self.breaks_verb()
            && !self.lacks_gerund()
            && !self.tells_reach()
            && !self.is_existential()
            && !self.tells_success()
    }

    /// Whether one of two words that say one thing can go: the other must suit the words beside them both.
    pub(super) fn keeps_pair(&self) -> bool {
        let (phrase, wording) = (self.prose.word(self.words.start), self.first_of_wording());
        let next = self.next();
        if self.is_bound() || RESULTS.contains(&next) || (self.wording == "first" && !self.opens_sentence()) {
            return false;
        }
        let is_of_little_words = matches!(phrase, "each" | "any" | "if" | "first" | "and" | "still");
        let before = self.before(1);
        // In a row `and` stands before the last alone: `sad, lonely and alone`.
        let in_row = !self.opens_sentence() && self.gap_before().contains(',') && is_adjective(self.word_before());
        let is_verbal = phrase == wording && !self.has("and");
        let drops_first = phrase != wording;
        let is_degree = DEGREES.contains(&before) || (before.ends_with("ly") && !matches!(before, "only" | "family"));
        let is_joined = matches!(before, "and" | "or" | "but" | "yet" | "nor");
        // Between marks one word alone is too little: `Few in number, the gulls`.
        let is_set_off = self.next().is_empty() && (self.opens_sentence() || self.gap_before().contains(','));
        is_of_little_words
            || (!is_set_off && is_verbal)
            || !(is_set_off || in_row || (drops_first && (is_degree || is_joined)))
    }

    /// Whether a word is wholly in capitals, which is a stress that a wording would lose.
    fn has_stress(&self) -> bool {
        self.words.clone().any(|at| is_shouted(self.prose.written(at)))
    }

    /// Whether a word that wants another behind it would have none.
    fn leaves_hanging(&self) -> bool {
        let last = match self.wording.rsplit(' ').next() {
            Some("") | None => self.before(1),
            Some(last) => last,
        };
        let is_followed = self.words.end < self.sentence().end && self.prose.is_joined(self.words.end - 1);
        if !is_followed {
            return HANGING.contains(&last);
        }
        !self.wording.is_empty() && DETERMINERS.contains(&last) && NO_NOUN.contains(&self.next())
    }

    /// Whether the sentence would begin with a word that refers to something gone, or that means something else there.
    fn begins_badly(&self) -> bool {
        let next = self.prose.word(self.words.end);
        self.opens_sentence()
            && (NEVER_FIRST.contains(&self.wording) || (self.wording.is_empty() && RELATIVES.contains(&next)))
    }

    /// Whether the phrase begins with an article that the word before it is bound to.
    fn breaks_article(&self) -> bool {
        matches!(self.prose.word(self.words.start), "a" | "an")
            && self.wording.split(' ').next() != Some("a")
            && BEFORE_ARTICLE.contains(&self.before(1))
    }

    /// Whether hardly more than a noun would be left between two marks: `A hidden secret.`
    fn leaves_bare_noun(&self) -> bool {
        let sentence = self.sentence();
        let parts = |at: usize| self.prose.gap(at).contains(['—', '–', ':', ';', '(', ')', '…']);
        // Beyond so many words enough is left, wherever a mark stands.
        let (first, last) = (self.words.start.saturating_sub(FEWEST + 1), self.words.end + FEWEST + 1);
        let (first, last) = (first.max(sentence.start), last.min(sentence.end));
        let start = (first..self.words.start).rev().find(|at| parts(*at)).map_or(first, |at| at + 1);
        let end = (self.words.end - 1..last).find(|at| parts(*at)).map_or(last, |at| at + 1);
        let kept = (start..self.words.start).chain(self.words.end..end).map(|at| self.prose.word(at));
        let left: Vec<&str> = kept.chain(self.wording.split_whitespace()).collect();
        let tells = |word: &&str| is_finite(word) || PRONOUNS.contains(word);
        left.len() <= FEWEST && left.len() < end - start && !left.iter().any(tells)
    }

    /// Whether a word before the phrase gives it another sense.
    fn is_bound(&self) -> bool {
        let phrase = self.phrase();
        let bound = BOUND.iter().find(|(bound, ..)| *bound == phrase);
        bound.is_some_and(|(_, reach, words)| (1..=*reach).any(|back| words.contains(&self.before(back))))
    }

    /// Whether the phrase's verb has `there` for its subject, which no other verb can have: `there is a search for`.
    fn is_existential(&self) -> bool {
        matches!(self.before(1), "there" | "there's")
    }

    /// Whether the phrase tells that something succeeds at last, so that its length is the sense.
    fn tells_success(&self) -> bool {
        const AT_LAST: [&str; 5] = ["finally", "last", "eventually", "somehow", "just"];
        self.phrase().contains("able") && (1..=2).any(|back| AT_LAST.contains(&self.before(back)))
    }

    /// Whether `can` or its like would stand behind another such word, or in a question that has turned its words
    /// about.
    fn doubles_modal(&self) -> bool {
        self.is_modal()
            && (self.prose.is_question(&self.sentence()) || (1..=4).any(|back| MODALS.contains(&self.before(back))))
    }

    /// Whether the wording begins with a modal verb.
    fn is_modal(&self) -> bool {
        matches!(self.first_of_wording(), "can" | "cannot" | "could" | "must")
    }

    /// Whether a verb would lose its subject, its object or its form.
    fn breaks_verb(&self) -> bool {
        let (verb, wording) = (self.prose.word(self.words.start), self.first_of_wording());
        let follows_have = (1..=3)
            .map(|back| self.before(back))
            .any(|word| HAVE.contains(&word) || ["'s", "'ve", "'d", "'re"].iter().any(|ending| word.ends_with(ending)));
        if (PASTS.contains(&wording) || BASES.contains(&verb)) && follows_have {
            return true;
        }
        if verb == "put" && !MODALS.contains(&self.before(1)) {
            return true;
        }
        let takes_noun = self.has("of") || self.has("for") || self.has("to");
        let is_state = matches!(verb, "is" | "are" | "was" | "were" | "has" | "have" | "had");
        if self.goes_on_with_noun() {
            return true;
        }
        if is_state && self.words.len() > 3 && (self.lacks_subject() || (takes_noun && self.goes_on_with_article())) {
            return true;
        }
        let lost_to = self.prose.word(self.words.end - 1) == "to" && !self.wording.ends_with("to");
        lost_to && !self.is_modal() && self.words.len() > 2 && is_base(self.next())
    }

    /// Whether no subject stands before the verb: it opens the sentence, or follows `there`, `here` or a place.
    fn lacks_subject(&self) -> bool {
        let sentence = self.sentence();
        let is_inverted = PLACES.contains(&self.prose.word(sentence.start))
            && self.prose.first_comma_from(sentence.start).is_none_or(|comma| comma >= self.words.start);
        self.words.start == sentence.start || NO_SUBJECTS.contains(&self.before(1)) || is_inverted
    }

    /// Whether another noun with its article goes on where the phrase's own did: `a love of cheese and a fear of cats`.
    fn goes_on_with_article(&self) -> bool {
        let is_article = |at: usize| matches!(self.prose.word(at), "a" | "an");
        let is_and = |at: usize| matches!(self.prose.word(at), "and" | "or" | "but");
        let follows = |at: usize| is_and(at - 1) || self.prose.gap(at - 1).contains([',', '—', '–', ';']);
        (self.words.end + 1..self.sentence().end).any(|at| is_article(at) && follows(at))
    }

    /// Whether a word of the phrase comes again in the sentence where it has no verb but the phrase's own:
    /// `made use of every trick, and use of every tool`.
    fn goes_on_with_noun(&self) -> bool {
        let is_linked = |at: usize| matches!(self.prose.word(at - 1), "and" | "or" | "but" | "nor" | "no" | "then");
        (self.words.end + 1..self.sentence().end).any(|at| {
            let word = self.prose.word(at);
            word.len() >= SHORTEST_NOUN && self.has(word) && (is_linked(at) || self.prose.gap(at - 1).contains(','))
        })
    }

    /// Whether `is in the process of` has no verb behind it that could take its place.
    fn lacks_gerund(&self) -> bool {
        self.has("process") && !self.next().ends_with("ing")
    }

    /// Whether `have got to` tells how far somebody is, and binds no verb: `they have got to six hundred`.
    fn tells_reach(&self) -> bool {
        self.has("got") && !is_base(self.next()) && !matches!(self.next(), "be" | "have" | "do" | "go" | "get")
    }

    /// Whether the phrase has a word.
    fn has(&self, word: &str) -> bool {
        self.words.clone().any(|at| self.prose.word(at) == word)
    }

    fn phrase(&self) -> String {
        self.words.clone().map(|at| self.prose.word(at)).collect::<Vec<_>>().join(" ")
    }

    fn first_of_wording(&self) -> &str {
        self.wording.split(' ').next().unwrap_or_default()
    }

    fn sentence(&self) -> Range<usize> {
        self.prose.sentence_of(self.words.start)
    }

    fn opens_sentence(&self) -> bool {
        self.sentence().start == self.words.start
    }

    /// The word so many before the phrase, with only blanks between; an empty one where there is none.
    fn before(&self, back: usize) -> &str {
        let at = self.words.start.checked_sub(back).filter(|at| *at >= self.sentence().start);
        let joined = |at: &usize| (*at..self.words.start).all(|word| self.prose.is_joined(word));
        at.filter(joined).map_or("", |at| self.prose.word(at))
    }

    /// The word before the phrase, whatever stands between.
    fn word_before(&self) -> &str {
        self.words.start.checked_sub(1).map_or("", |at| self.prose.word(at))
    }

    fn gap_before(&self) -> &str {
        self.words.start.checked_sub(1).map_or("", |at| self.prose.gap(at))
    }

    /// The word behind the phrase, with only blanks between; an empty one where there is none.
    fn next(&self) -> &str {
        let is_there = self.prose.is_joined(self.words.end - 1);
        if is_there { self.prose.word(self.words.end) } else { "" }
    }
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn wordings_keep_sense_and_grammar() {
        check(include_str!("../../tests/cases/queries/sense.txt"));
    }
}
