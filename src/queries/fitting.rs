//! Whether another word can stand where a word stands: by the words beside it, and by what the list says of it.
//!
//! Source: the grammar of English: articles and nouns that are counted, objects of verbs, adjectives that stand only
//! before a noun or only behind a verb, adverbs and their places. Where it is not sure, the word is refused.

use std::ops::Range;

use super::prose::Prose;
use crate::terms::other_words::{ListedPart, OnlyWhere, OtherWord, WordForm, is_counted};
use crate::text::syllables;
use crate::text::tagger::WordClass;

/// The place of a word in its sentence.
pub(super) struct Spot<'p, 'a> {
    /// The paragraph.
    pub(super) prose: &'p Prose<'a>,
    /// The sentence, as positions among the paragraph's words.
    pub(super) sentence: Range<usize>,
    /// The parts of speech of the sentence's words.
    pub(super) tags: &'p [WordClass],
    /// The word's position among the paragraph's words.
    pub(super) at: usize,
}

/// What stands before a noun and its modifiers.
#[derive(PartialEq, Eq)]
enum Lead<'p> {
    /// Nothing that determines it.
    Nothing,
    /// `a` or `an`.
    Article,
    /// Another article, a pronoun, a possessive.
    Other(&'p str),
}

/// Adverbs that never stand before a verb or an adjective.
const BEHIND: [&str; 6] = ["fast", "hard", "well", "a lot", "nonstop", "enough"];
/// Adverbs of several words that may stand before a verb.
const BEFORE_VERB: [&str; 4] = ["hardly ever", "at last", "at once", "no doubt"];
/// Adverbs that make an adjective stronger, and nothing else.
const STRONGER: [&str; 1] = ["very"];
/// Adverbs that make a comparative stronger, and nothing else.
const FAR: [&str; 2] = ["much", "far"];
/// Adjectives that stand behind a verb alone.
const BEHIND_VERB: [&str; 21] = [
    "afraid", "asleep", "awake", "alone", "alight", "afire", "aware", "alike", "ill", "glad", "sorry", "well",
    "unwell", "sure", "unsure", "stuck", "upset", "let", "ready", "pleased", "near",
];
/// Adjectives that stand before a noun alone.
const BEFORE_NOUN: [&str; 20] = [
    "main",
    "chief",
    "key",
    "utter",
    "sheer",
    "elder",
    "country",
    "city",
    "town",
    "chance",
    "surprise",
    "next",
    "last",
    "many",
    "several",
    "countless",
    "latest",
    "teenage",
    "first",
    "sea",
];
/// Words for a number or an amount, which have no `a`.
const AMOUNTS: [&str; 5] = ["many", "several", "more", "enough", "countless"];
/// Adverbs that make an adjective stronger or weaker.
const DEGREES: [&str; 9] = ["very", "so", "too", "quite", "rather", "really", "as", "how", "extremely"];
/// Adverbs that part from a verb what they belong to, so that the two are one thing.
const PARTICLES: [&str; 7] = ["up", "off", "out", "down", "away", "back", "over"];
/// Last words behind which an object has to follow.
const OPEN_ENDS: [&str; 10] = ["for", "to", "at", "into", "with", "of", "about", "across", "like", "from"];
/// Pronouns that are objects, between a verb and its particle.
const OBJECTS: [&str; 7] = ["it", "them", "him", "me", "us", "you", "her"];
/// Verbs to which `to` and another verb belong.
const BEGIN_CHAIN: [&str; 26] = [
    "continue",
    "aspire",
    "attempt",
    "strive",
    "desire",
    "intend",
    "yearn",
    "struggle",
    "endeavour",
    "endeavor",
    "vow",
    "resolve",
    "plead",
    "hesitate",
    "commence",
    "cease",
    "propose",
    "hasten",
    "crave",
    "encourage",
    "compel",
    "entice",
    "inspire",
    "instruct",
    "long",
    "seek",
];
/// Verbs that may take the place of one to which `to` and another verb belong.
const CHAIN: [&str; 29] = [
    "hope", "dream", "try", "work", "struggle", "want", "mean", "plan", "long", "wish", "ache", "fight", "promise",
    "swear", "decide", "beg", "ask", "start", "begin", "offer", "hurry", "rush", "urge", "help", "force", "drive",
    "tempt", "move", "tell",
];
/// Verbs that `that` and a sentence may follow.
const THAT: [&str; 18] = [
    "say", "know", "see", "find", "think", "guess", "show", "learn", "hope", "admit", "expect", "fear", "claim",
    "promise", "swear", "wonder", "prove", "suggest",
];
/// Adjectives by the preposition behind them.
const WITH_PREPOSITION: [(&str, &[&str]); 5] = [
    (
        "of",
        &[
            "afraid",
            "scared",
            "frightened",
            "full",
            "fond",
            "tired",
            "proud",
            "sure",
            "unsure",
            "careful",
            "free",
            "short",
            "jealous",
            "wary",
        ],
    ),
    (
        "to",
        &[
            "ready",
            "able",
            "willing",
            "unwilling",
            "sure",
            "glad",
            "keen",
            "eager",
            "happy",
            "sad",
            "afraid",
            "scared",
            "frightened",
            "pleased",
            "hard",
            "easy",
            "kind",
            "close",
            "next",
            "near",
            "likely",
            "free",
            "loyal",
            "true",
            "thankful",
            "dear",
            "new",
            "slow",
            "sorry",
            "surprised",
            "amazed",
            "lucky",
            "quick",
            "ashamed",
            "needed",
            "helpful",
            "harmful",
            "unknown",
            "deadly",
        ],
    ),
    (
        "with",
        &[
            "angry", "happy", "pleased", "cross", "busy", "filled", "bored", "furious", "gentle", "careful",
            "friendly", "annoyed", "thrilled", "covered", "shared", "red",
        ],
    ),
    ("from", &["far", "different", "free", "away", "safe", "hidden", "tired", "missing", "gone"]),
    (
        "by",
        &[
            "amazed",
            "surprised",
            "stunned",
            "confused",
            "puzzled",
            "scared",
            "frightened",
            "upset",
            "shocked",
            "worried",
            "loved",
            "hidden",
            "thrilled",
            "tired",
            "annoyed",
            "crushed",
            "troubled",
        ],
    ),
];

impl<'p> Spot<'p, '_> {
    /// The word's part of speech.
    pub(super) fn tag(&self) -> WordClass {
        self.tag_of(self.at).unwrap_or(WordClass::Name)
    }

    fn tag_of(&self, at: usize) -> Option<WordClass> {
        self.tags.get(at.checked_sub(self.sentence.start)?).copied()
    }

    /// The next word and its part of speech, where only blanks stand between.
    fn next(&self) -> Option<(&str, WordClass)> {
        let tag = self.tag_of(self.at + 1).filter(|_| self.prose.is_joined(self.at))?;
        Some((self.prose.word(self.at + 1), tag))
    }

    fn next_word(&self) -> &str {
        self.next().map_or("", |(word, _)| word)
    }

    fn next_tag(&self) -> Option<WordClass> {
        self.next().map(|(_, tag)| tag)
    }

    /// The position of the word before, where only blanks stand between.
    fn before(&self, at: usize) -> Option<usize> {
        at.checked_sub(1).filter(|before| *before >= self.sentence.start && self.prose.is_joined(*before))
    }

    fn word_before(&self) -> &str {
        self.before(self.at).map_or("", |at| self.prose.word(at))
    }

    /// The part of speech of the last word before this one that is no adverb.
    fn tag_before(&self) -> Option<WordClass> {
        let mut at = self.at;
        while let Some(before) = self.before(at) {
            match self.tag_of(before) {
                Some(WordClass::Adverb) => at = before,
                tag => return tag,
            }
        }
        None
    }

    /// Whether a form of `have` makes the word a participle.
    pub(super) fn is_behind_have(&self) -> bool {
        self.tag() == WordClass::Participle && self.tag_before() == Some(WordClass::Have)
    }

    /// A wording without its last word where that stands behind the place already: `join in` before `in`.
    pub(super) fn without_doubled<'w>(&self, wording: &'w str) -> &'w str {
        match wording.rsplit_once(' ') {
            Some((first, last)) if last == self.next_word() => first,
            _ => wording,
        }
    }

    /// Whether another word can stand here.
    pub(super) fn takes(&self, other: &OtherWord) -> bool {
        !self.has(other)
            && match other.part {
                ListedPart::Noun => self.takes_noun(other),
                ListedPart::Verb => self.takes_verb(other),
                ListedPart::Adjective => self.takes_adjective(other),
                ListedPart::Adverb => self.takes_adverb(other),
                ListedPart::Small => self.takes_small(other),
            }
    }

    /// Whether the sentence has a telling word of the other already, so that it would be said twice.
    fn has(&self, other: &OtherWord) -> bool {
        let telling = |word: &&str| word.len() > 3;
        let mut words = other.wording.split(' ').chain(other.plain.split(' ')).filter(telling);
        words.any(|word| self.sentence.clone().any(|at| self.prose.word(at) == word))
    }

    fn takes_noun(&self, other: &OtherWord) -> bool {
        // Of two nouns in a row the two are one thing.
        if self.next_tag() == Some(WordClass::Noun) && !self.prose.word(self.at).ends_with("'s") {
            return false;
        }
        let is_uncounted = match other.only {
            Some(only) => only == OnlyWhere::NoArticle,
            None => !other.is_collected && !is_counted(other.plain),
        };
        if other.form == WordForm::Plural {
            return !is_uncounted;
        }
        let looks_plural = is_uncounted && other.plain.ends_with('s') && !other.plain.ends_with("ss");
        let before_verb = matches!(
            self.next_tag(),
            Some(WordClass::Be | WordClass::Have | WordClass::Do | WordClass::Present | WordClass::Past)
        );
        match self.lead() {
            Lead::Article => !is_uncounted,
            Lead::Nothing => (is_uncounted || other.only.is_some()) && !(looks_plural && before_verb),
            Lead::Other(word) => {
                !(looks_plural && (before_verb || ["this", "that", "every", "each", "another", "one"].contains(&word)))
            }
        }
    }

    fn lead(&self) -> Lead<'_> {
        let mut at = self.at;
        loop {
            // The apostrophe of a plural's possessive parts two words.
            let is_owned = at > self.sentence.start
                && self.prose.word(at - 1).ends_with('s')
                && matches!(self.prose.gap(at - 1), "' " | "’ ");
            if is_owned {
                return Lead::Other("");
            }
            let Some(before) = self.before(at) else { return Lead::Nothing };
            let word = self.prose.word(before);
            match self.tag_of(before) {
                _ if word.ends_with("'s") => return Lead::Other(word),
                Some(WordClass::Determiner) if matches!(word, "a" | "an") => return Lead::Article,
                Some(WordClass::Determiner) => return Lead::Other(word),
                Some(
                    WordClass::Adjective
                    | WordClass::Participle
                    | WordClass::Noun
                    | WordClass::Name
                    | WordClass::Gerund
                    | WordClass::Adverb,
                ) => at = before,
                _ => return Lead::Nothing,
            }
        }
    }

    fn takes_verb(&self, other: &OtherWord) -> bool {
        let (next, tag) = (self.next_word(), self.next_tag());
        let has_object = !["that", "there", "who", "whom"].contains(&next)
            && matches!(
                tag,
                Some(
                    WordClass::Determiner
                        | WordClass::Noun
                        | WordClass::Plural
                        | WordClass::Name
                        | WordClass::Pronoun
                        | WordClass::Adjective
                )
            );
        // A participle stands in a passive, behind `have`, or before a noun; each of these asks something else of the
        // verb.
        let is_passive = other.form == WordForm::Participle
            && matches!(self.tag_before(), Some(WordClass::Be | WordClass::Noun | WordClass::Plural | WordClass::Name));
        let is_modifier = other.form == WordForm::Participle && !is_passive && !self.is_behind_have();
        let may_stand = match other.only {
            Some(OnlyWhere::NoObject) => !has_object && !is_passive && !is_modifier,
            Some(OnlyWhere::Object) => has_object || is_passive,
            Some(OnlyWhere::BeforeTo) => tag == Some(WordClass::To),
            _ => true,
        };
        let (first, last) =
            (other.plain.split(' ').next().unwrap_or_default(), other.plain.rsplit(' ').next().unwrap_or_default());
        let is_phrase = first != other.plain;
        let is_doubled = self.without_doubled(&other.wording) != other.wording;
        let has_particle = PARTICLES.contains(&next) && !is_doubled;
        let is_parted = is_phrase && PARTICLES.contains(&last) && OBJECTS.contains(&next);
        let is_foreign = tag == Some(WordClass::Preposition) && !other.is_collected;
        let is_set = (other.head == "stumble" && matches!(next, "upon" | "across" | "on" | "into"))
            || (other.plain == "win" && next == "over");
        let keeps_chain = tag != Some(WordClass::To)
            || !BEGIN_CHAIN.contains(&other.head)
            || CHAIN.contains(&first) && !is_phrase
            || other.only == Some(OnlyWhere::BeforeTo);
        // What ends in `for` or `to` waits for an object.
        let is_open = is_phrase && OPEN_ENDS.contains(&last) && !has_object && !is_passive && !is_doubled;
        may_stand
            && !is_open
            && !(is_phrase && (has_particle || is_modifier))
            && !is_parted
            && !is_foreign
            && !is_set
            && keeps_chain
            && (next != "that" || THAT.contains(&other.plain))
            && !(is_passive && other.plain.split(' ').count() > 2)
    }

    /// Whether the word stands before a noun, with other adjectives between or not.
    fn is_before_noun(&self) -> bool {
        let mut at = self.at;
        loop {
            if !self.prose.is_joined(at) && !self.prose.gap(at).starts_with(", ") {
                return false;
            }
            at += 1;
            match self.tag_of(at) {
                Some(WordClass::Noun | WordClass::Plural | WordClass::Name) => return true,
                Some(WordClass::Adjective | WordClass::Participle | WordClass::Gerund) => {}
                _ => return false,
            }
        }
    }

    fn takes_adjective(&self, other: &OtherWord) -> bool {
        let (wording, before) = (other.wording.as_str(), self.word_before());
        let is_before_noun = self.is_before_noun();
        let is_phrase = wording.contains(' ');
        let is_stronger = wording.starts_with("very ");
        let first = wording.split(' ').next().unwrap_or_default();
        // A form in -ing with an object is a verb.
        let is_verb = self.tag() == WordClass::Gerund
            && matches!(self.next_tag(), Some(WordClass::Determiner | WordClass::Pronoun));
        // Only somebody who can ask is nosy, and the words behind tell nothing of that.
        let is_of_things = other.head == "curious" && is_before_noun;
        if is_verb
            || is_of_things
            || (is_before_noun && (BEHIND_VERB.contains(&first) || is_phrase && !is_stronger && first != "deep"))
            || (!is_before_noun && BEFORE_NOUN.contains(&wording))
        {
            return false;
        }
        if AMOUNTS.contains(&wording)
            && self.before(self.at).and_then(|at| self.tag_of(at)) == Some(WordClass::Determiner)
        {
            return false;
        }
        let is_compared = matches!(before, "more" | "most" | "less" | "least");
        if is_compared && (is_phrase || syllables::count(wording, "").0 < 2) || is_stronger && DEGREES.contains(&before)
        {
            return false;
        }
        let next = self.next_word();
        match WITH_PREPOSITION.iter().find(|(preposition, _)| *preposition == next) {
            Some((_, known)) => known.contains(&wording),
            None => other.is_collected || !matches!(next, "about" | "for" | "at"),
        }
    }

    fn takes_adverb(&self, other: &OtherWord) -> bool {
        let wording = other.wording.as_str();
        let (next, tag) = (self.next_word(), self.next_tag());
        let is_before_adjective = matches!(tag, Some(WordClass::Adjective | WordClass::Adverb | WordClass::Participle));
        let is_before_verb = matches!(
            tag,
            Some(
                WordClass::Base
                    | WordClass::Present
                    | WordClass::Past
                    | WordClass::Gerund
                    | WordClass::Be
                    | WordClass::Have
                    | WordClass::Do
                    | WordClass::Modal
            )
        );
        let is_before_comparative = next.ends_with("er") || matches!(next, "more" | "less" | "worse");
        match () {
            () if STRONGER.contains(&wording) => is_before_adjective && !is_before_comparative,
            () if FAR.contains(&wording) => is_before_comparative,
            () if BEHIND.contains(&wording) => {
                let ends = matches!(tag, None | Some(WordClass::Preposition | WordClass::Conjunction | WordClass::To));
                ends && self.at > self.sentence.start && self.before(self.at).is_some()
            }
            () if wording.contains(' ') => !is_before_adjective && (!is_before_verb || BEFORE_VERB.contains(&wording)),
            () => true,
        }
    }

    fn takes_small(&self, other: &OtherWord) -> bool {
        let before = self.before(self.at).and_then(|at| self.tag_of(at));
        let begins_tale = other.head == "upon" && self.word_before() == "once";
        let is_modifier = matches!(before, Some(WordClass::Determiner | WordClass::Be));
        !begins_tale && !is_modifier && self.next().is_some()
    }
}
