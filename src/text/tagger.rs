//! The part of speech of each word of an English sentence, by lists and a few rules on what stands beside it.
//!
//! A word of a closed class has that class. Any other has those that `parts` gives it, and the words before it choose
//! among them: a helper verb wants a participle or a plain form, an article a noun, a subject a finite verb. Where
//! nothing chooses, the commonest counts. Source: the word classes of English grammar; the order of the rules was found
//! on the project's own blurbs. What is wrong most often is a past taken for a participle or an adjective, so rules on
//! wording look at the helper verb too.

use super::parts::Parts;

/// The part of speech of a word in its sentence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WordClass {
    /// A noun in the singular: `lamp`.
    Noun,
    /// A noun in the plural: `lamps`.
    Plural,
    /// A name.
    Name,
    /// `she`, `them`, `who`.
    Pronoun,
    /// `the`, `every`, `two`, `her` before a noun.
    Determiner,
    /// `of`, `with`; also `to` before a noun.
    Preposition,
    /// `to` before a verb.
    To,
    /// `and`, `because`, `when`.
    Conjunction,
    /// `can`, `must`.
    Modal,
    /// A form of `be`.
    Be,
    /// A form of `have`.
    Have,
    /// A form of `do`.
    Do,
    /// A verb's plain form, also as a present: `climb`.
    Base,
    /// A verb's form in -s: `climbs`.
    Present,
    /// A verb's past: `climbed`.
    Past,
    /// A verb's past participle: `stolen`.
    Participle,
    /// A verb's form in -ing.
    Gerund,
    /// An adjective.
    Adjective,
    /// An adverb, `not` among them.
    Adverb,
}

/// A word as the tagger reads it.
#[derive(Debug, Clone, Copy)]
pub struct TaggerWord<'a> {
    /// The word in small letters, with straight apostrophes.
    pub word: &'a str,
    /// Whether the author wrote it with a capital.
    pub is_capital: bool,
    /// Whether something other than a blank stands before it, or it is the first of its sentence.
    pub follows_stop: bool,
}

const BE: [&str; 17] = [
    "be", "am", "is", "are", "was", "were", "been", "being", "isn't", "aren't", "wasn't", "weren't", "'s", "'re",
    "gets", "got", "get",
];
const HAVE: [&str; 7] = ["have", "has", "had", "having", "haven't", "hasn't", "hadn't"];
const DO: [&str; 6] = ["do", "does", "did", "don't", "doesn't", "didn't"];
const MODALS: [&str; 20] = [
    "can",
    "could",
    "will",
    "would",
    "shall",
    "should",
    "may",
    "might",
    "must",
    "cannot",
    "can't",
    "couldn't",
    "won't",
    "wouldn't",
    "shouldn't",
    "mustn't",
    "let's",
    "she'll",
    "they'll",
    "he'll",
];
const DETERMINERS: [&str; 42] = [
    "a", "an", "the", "this", "that", "these", "those", "every", "each", "some", "any", "no", "my", "your", "his",
    "her", "its", "our", "their", "another", "both", "all", "many", "few", "several", "one", "two", "three", "four",
    "five", "six", "seven", "eight", "nine", "ten", "more", "most", "other", "such", "what", "which", "whose",
];
const PRONOUNS: [&str; 32] = [
    "i",
    "you",
    "he",
    "she",
    "it",
    "we",
    "they",
    "me",
    "him",
    "us",
    "them",
    "who",
    "whom",
    "someone",
    "somebody",
    "something",
    "everyone",
    "everybody",
    "everything",
    "nobody",
    "nothing",
    "anyone",
    "anything",
    "there",
    "himself",
    "herself",
    "itself",
    "themselves",
    "yourself",
    "mine",
    "hers",
    "theirs",
];
const PREPOSITIONS: [&str; 42] = [
    "of", "in", "on", "at", "by", "for", "from", "with", "without", "into", "onto", "through", "across", "under",
    "over", "between", "among", "behind", "beside", "beyond", "about", "against", "along", "around", "during", "near",
    "toward", "towards", "upon", "within", "inside", "outside", "beneath", "above", "below", "past", "off", "up",
    "down", "out", "like", "as",
];
const CONJUNCTIONS: [&str; 20] = [
    "and", "or", "but", "nor", "so", "yet", "because", "although", "though", "if", "when", "while", "until", "unless",
    "since", "whether", "before", "after", "where", "than",
];
const ADVERBS: [&str; 22] = [
    "not", "never", "always", "soon", "once", "often", "now", "then", "just", "only", "even", "still", "ever", "also",
    "too", "very", "quite", "again", "almost", "already", "here", "n't",
];

/// The class of a word that belongs to a closed one.
fn closed(word: &str) -> Option<WordClass> {
    let lists: [(&[&str], WordClass); 9] = [
        (&BE, WordClass::Be),
        (&HAVE, WordClass::Have),
        (&DO, WordClass::Do),
        (&MODALS, WordClass::Modal),
        (&DETERMINERS, WordClass::Determiner),
        (&PRONOUNS, WordClass::Pronoun),
        (&PREPOSITIONS, WordClass::Preposition),
        (&CONJUNCTIONS, WordClass::Conjunction),
        (&ADVERBS, WordClass::Adverb),
    ];
    lists.iter().find(|(list, _)| list.contains(&word)).map(|(_, class)| *class)
}

/// Whether the lists have a word as an adjective, whatever else it may be.
pub fn is_adjective(word: &str) -> bool {
    Parts::of(word).any(Parts::ADJECTIVE)
}

/// Whether the lists have a word as a noun, in the singular or the plural, whatever else it may be.
pub fn may_be_noun(word: &str) -> bool {
    Parts::of(word).any(Parts::NOUN | Parts::PLURAL)
}

/// Whether the lists have a word as an adjective and as nothing else.
pub fn is_only_adjective(word: &str) -> bool {
    let parts = Parts::of(word);
    parts.any(Parts::ADJECTIVE) && !parts.any(!Parts::ADJECTIVE)
}

/// Whether the lists or its ending tell what a word in small letters may be.
pub fn is_known(word: &str) -> bool {
    closed(word).is_some() || Parts::of(word) != Parts::default()
}

/// The part of speech of each word of a sentence.
pub fn tag(words: &[TaggerWord<'_>]) -> Vec<WordClass> {
    let parts: Vec<Parts> = words.iter().map(|word| Parts::of(word.word)).collect();
    let mut tagged: Vec<WordClass> = Vec::with_capacity(words.len());
    for at in 0..words.len() {
        let class = class_at(words, &parts, &tagged, at);
        tagged.push(class);
    }
    tagged
}

fn class_at(words: &[TaggerWord<'_>], parts: &[Parts], tagged: &[WordClass], at: usize) -> WordClass {
    let TaggerWord { word, is_capital, .. } = words[at];
    let next_is_noun = || {
        parts.get(at + 1).is_some_and(|next| next.any(Parts::NOUN | Parts::PLURAL))
            && !words[at + 1].follows_stop
            && closed(words[at + 1].word).is_none()
    };
    if word == "to" {
        let before_verb = parts.get(at + 1).is_some_and(|next| next.any(Parts::BASE))
            && (closed(words[at + 1].word).is_none() || matches!(words[at + 1].word, "be" | "have" | "do" | "get"));
        return if before_verb { WordClass::To } else { WordClass::Preposition };
    }
    if let Some(class) = closed(word) {
        return class;
    }
    if is_capital && at > 0 && !words[at].follows_stop || parts[at] == Parts::default() && is_capital {
        return WordClass::Name;
    }
    let context = Context { words, tagged, at, next_is_noun: next_is_noun() };
    context.choose(parts[at])
}

/// What stands beside a word.
struct Context<'a> {
    words: &'a [TaggerWord<'a>],
    tagged: &'a [WordClass],
    at: usize,
    next_is_noun: bool,
}

impl Context<'_> {
    /// The class of the last word before this one that is no adverb, within the clause.
    fn before(&self) -> Option<WordClass> {
        let earlier = (0..self.at).rev().take_while(|at| !self.words[at + 1].follows_stop);
        earlier.map(|at| self.tagged[at]).find(|class| *class != WordClass::Adverb)
    }

    /// Whether the clause has had its finite verb: nothing that begins a clause stands between.
    fn has_verb(&self) -> bool {
        let begins = |at: usize| {
            self.words[at].follows_stop
                || self.tagged[at] == WordClass::Conjunction
                || matches!(self.words[at].word, "who" | "which" | "that")
        };
        for at in (0..self.at).rev() {
            match self.tagged[at] {
                WordClass::Be | WordClass::Have | WordClass::Do | WordClass::Modal => return true,
                WordClass::Present | WordClass::Past | WordClass::Base => return true,
                _ if begins(at) => return false,
                _ => {}
            }
        }
        false
    }

    fn choose(&self, parts: Parts) -> WordClass {
        let before = if self.words[self.at].follows_stop { None } else { self.before() };
        match before {
            Some(WordClass::To | WordClass::Modal | WordClass::Do) if parts.any(Parts::BASE) => WordClass::Base,
            Some(WordClass::Be) => self.behind_be(parts),
            Some(WordClass::Have) if parts.any(Parts::PARTICIPLE) => WordClass::Participle,
            Some(WordClass::Determiner | WordClass::Adjective) => self.in_noun_group(parts),
            Some(WordClass::Preposition) => self.in_noun_group(parts),
            Some(WordClass::Pronoun) => self.behind_subject(parts),
            Some(WordClass::Noun | WordClass::Name) if !self.has_verb() => self.behind_noun(parts),
            Some(WordClass::Plural) if !self.has_verb() && parts.any(Parts::BASE | Parts::PAST) => {
                if parts.any(Parts::PAST) { WordClass::Past } else { self.commonest(parts, Parts::BASE) }
            }
            _ if parts.any(Parts::PAST) && !self.has_verb() && self.at > 0 => WordClass::Past,
            _ if parts.any(Parts::PARTICIPLE) => {
                if self.next_is_noun && parts.any(Parts::ADJECTIVE) {
                    WordClass::Adjective
                } else {
                    WordClass::Participle
                }
            }
            _ => self.commonest(parts, 0),
        }
    }

    fn behind_be(&self, parts: Parts) -> WordClass {
        match () {
            () if parts.any(Parts::GERUND) => WordClass::Gerund,
            () if parts.any(Parts::PARTICIPLE) => WordClass::Participle,
            () if parts.any(Parts::ADJECTIVE) => WordClass::Adjective,
            () => self.commonest(parts, 0),
        }
    }

    fn in_noun_group(&self, parts: Parts) -> WordClass {
        let is_modifier = parts.any(Parts::ADJECTIVE | Parts::PARTICIPLE) && self.next_is_noun;
        match () {
            () if is_modifier => WordClass::Adjective,
            () if parts.any(Parts::PLURAL) => WordClass::Plural,
            () if parts.any(Parts::NOUN) => WordClass::Noun,
            () if parts.any(Parts::GERUND) => WordClass::Gerund,
            () if parts.any(Parts::ADJECTIVE) => WordClass::Adjective,
            () => self.commonest(parts, 0),
        }
    }

    fn behind_subject(&self, parts: Parts) -> WordClass {
        match () {
            () if parts.any(Parts::PRESENT) => WordClass::Present,
            () if parts.any(Parts::PAST) => WordClass::Past,
            () => self.commonest(parts, Parts::BASE),
        }
    }

    /// Behind the noun that may be the subject: a verb where the word is more often one, or where an object follows.
    fn behind_noun(&self, parts: Parts) -> WordClass {
        let next = self.words.get(self.at + 1);
        let has_object = next.is_some_and(|next| !next.follows_stop && DETERMINERS.contains(&next.word));
        match () {
            () if parts.any(Parts::PAST) => WordClass::Past,
            () if parts.any(Parts::PRESENT) && (has_object || parts.first == Parts::PRESENT) => WordClass::Present,
            () => self.commonest(parts, 0),
        }
    }

    /// The commonest of a word's parts, or `wanted` where the word may be that.
    fn commonest(&self, parts: Parts, wanted: u16) -> WordClass {
        match if parts.any(wanted) { wanted } else { parts.first } {
            Parts::PLURAL => WordClass::Plural,
            Parts::BASE => WordClass::Base,
            Parts::PRESENT => WordClass::Present,
            Parts::PAST => WordClass::Past,
            Parts::PARTICIPLE => WordClass::Participle,
            Parts::GERUND => WordClass::Gerund,
            Parts::ADJECTIVE => WordClass::Adjective,
            Parts::ADVERB => WordClass::Adverb,
            _ => WordClass::Noun,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{TaggerWord, WordClass, tag};

    /// A sentence whose words have their classes behind a slash.
    fn check(marked: &str) {
        let pairs: Vec<(&str, &str)> = marked.split(' ').map(|pair| pair.split_once('/').unwrap()).collect();
        let folded: Vec<String> = pairs.iter().map(|(word, _)| word.trim_matches([',', '.']).to_lowercase()).collect();
        let words: Vec<TaggerWord<'_>> = folded
            .iter()
            .enumerate()
            .map(|(at, word)| TaggerWord {
                word,
                is_capital: pairs[at].0.starts_with(char::is_uppercase),
                follows_stop: at == 0 || pairs[at - 1].0.ends_with([',', '.']),
            })
            .collect();
        let short = |class: &WordClass| format!("{class:?}");
        let told: Vec<String> =
            tag(&words).iter().zip(&pairs).map(|(class, (word, _))| format!("{word}/{}", short(class))).collect();
        assert_eq!(told.join(" "), marked);
    }

    #[test]
    fn sentences_are_tagged_as_an_editor_would() {
        check("Oona/Name climbs/Present the/Determiner old/Adjective stairs/Plural");
        check("The/Determiner lamp/Noun was/Be stolen/Participle by/Preposition a/Determiner fox/Noun");
        check("She/Pronoun has/Have never/Adverb lit/Participle it/Pronoun");
        check("They/Pronoun must/Modal hide/Base the/Determiner stolen/Adjective lamp/Noun");
        check("He/Pronoun wants/Present to/To fight/Base in/Preposition the/Determiner fight/Noun");
        check("The/Determiner storm/Noun rises/Present and/Conjunction Oona/Name waits/Present");
        check("A/Determiner boat/Noun sails/Present the/Determiner sea/Noun");
    }
}
