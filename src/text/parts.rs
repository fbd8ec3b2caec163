//! Which parts of speech a single English word may be, by lists: the closed classes of the grammar, WordNet's parts for
//! plain forms, and the endings and irregular forms by which other forms go back to those.

use std::collections::HashMap;
use std::sync::LazyLock;

use super::inflections::is_inflected;

/// What a word may be, in bits, and which of them is the commonest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Parts {
    bits: u16,
    /// The commonest; one of the bits, or none.
    pub(super) first: u16,
}

impl Parts {
    pub(super) const NOUN: u16 = 1;
    pub(super) const PLURAL: u16 = 1 << 1;
    /// The plain form of a verb.
    pub(super) const BASE: u16 = 1 << 2;
    /// A verb's form in -s.
    pub(super) const PRESENT: u16 = 1 << 3;
    pub(super) const PAST: u16 = 1 << 4;
    pub(super) const PARTICIPLE: u16 = 1 << 5;
    pub(super) const GERUND: u16 = 1 << 6;
    pub(super) const ADJECTIVE: u16 = 1 << 7;
    pub(super) const ADVERB: u16 = 1 << 8;

    /// Whether the word may be one of some parts.
    pub(super) fn any(self, bits: u16) -> bool {
        self.bits & bits != 0
    }

    fn add(&mut self, bits: u16) {
        self.first = if self.first == 0 { bits & bits.wrapping_neg() } else { self.first };
        self.bits |= bits;
    }

    /// What a word in small letters may be by the lists and its ending; nothing where neither tells.
    pub(super) fn of(word: &str) -> Self {
        let mut parts = Self::default();
        for letter in letters_of(word).bytes() {
            parts.add(match letter {
                b'n' => Self::NOUN,
                b'v' => Self::BASE,
                b'a' => Self::ADJECTIVE,
                _ => Self::ADVERB,
            });
        }
        if parts.any(Self::BASE) && SAME.contains(&word) {
            parts.add(Self::PAST | Self::PARTICIPLE);
        }
        if let Some(base) = IRREGULAR.get(word) {
            parts.add(irregular(word, letters_of(base)));
        }
        parts.add_inflected(word);
        if word.ends_with("ly") && parts.bits == 0 {
            parts.add(Self::ADVERB);
        }
        parts
    }

    /// Adds what a word is as the regular form of another.
    fn add_inflected(&mut self, word: &str) {
        let is_form = |base: &str| base.len() > 1 && is_inflected(word, base);
        let bases = |ending: usize| {
            let stem = word.get(..word.len().saturating_sub(ending)).unwrap_or_default();
            let single = stem.get(..stem.len().saturating_sub(1)).unwrap_or_default();
            [stem.to_owned(), format!("{stem}e"), format!("{single}y"), single.to_owned()]
        };
        let known =
            |ending, letter: char| bases(ending).iter().any(|base| is_form(base) && letters_of(base).contains(letter));
        if word.ends_with("ing") && known(3, 'v') {
            self.add(Self::GERUND);
        } else if word.ends_with("ed") && known(2, 'v') {
            self.add(Self::PAST | Self::PARTICIPLE);
        } else if word.ends_with('s') && !word.ends_with("ss") {
            let bases = [bases(1), bases(2)].concat();
            let may_be = |letter: char| bases.iter().any(|base| is_form(base) && letters_of(base).contains(letter));
            let is_verb_first = bases.iter().any(|base| is_form(base) && letters_of(base).starts_with('v'));
            let both = [(may_be('n'), Self::PLURAL), (may_be('v'), Self::PRESENT)];
            let order = if is_verb_first { [both[1], both[0]] } else { both };
            order.iter().filter(|(may, _)| *may).for_each(|(_, part)| self.add(*part));
        }
    }
}

/// What an irregular form is, by the letters of its plain form: of a noun it is the plural, of a verb a past or a
/// participle, of an adjective a degree.
fn irregular(word: &str, letters: &str) -> u16 {
    const PARTICIPLES: [&str; 14] = [
        "begun", "drunk", "sung", "sunk", "swum", "rung", "sprung", "shrunk", "stunk", "run", "come", "become", "done",
        "gone",
    ];
    const PLURALS: [&str; 10] = ["men", "mice", "lice", "feet", "teeth", "geese", "children", "oxen", "dice", "women"];
    if letters.contains('v') && !PLURALS.contains(&word) && !word.ends_with("ves") {
        return match word {
            _ if PASTS.contains(&word) => Parts::PAST,
            _ if PARTICIPLES.contains(&word) || word.ends_with('n') && word != "won" => Parts::PARTICIPLE,
            _ => Parts::PAST | Parts::PARTICIPLE,
        };
    }
    if letters.starts_with('a') { Parts::ADJECTIVE } else { Parts::PLURAL }
}

/// Pasts whose participle is another word.
const PASTS: [&str; 64] = [
    "went",
    "began",
    "ate",
    "drank",
    "ran",
    "sang",
    "sank",
    "swam",
    "rang",
    "sprang",
    "shrank",
    "stank",
    "came",
    "became",
    "overcame",
    "did",
    "saw",
    "knew",
    "grew",
    "threw",
    "blew",
    "flew",
    "drew",
    "gave",
    "forgave",
    "took",
    "mistook",
    "shook",
    "wrote",
    "rode",
    "rose",
    "drove",
    "strove",
    "froze",
    "spoke",
    "broke",
    "woke",
    "awoke",
    "chose",
    "stole",
    "wove",
    "swore",
    "tore",
    "wore",
    "bore",
    "hid",
    "bit",
    "fell",
    "forgot",
    "lay",
    "slew",
    "trod",
    "forbade",
    "bade",
    "arose",
    "withdrew",
    "overtook",
    "undertook",
    "outgrew",
    "foresaw",
    "undid",
    "outran",
    "overthrew",
    "forsook",
];
/// Verbs whose past and participle are the plain form.
const SAME: [&str; 24] = [
    "put",
    "cut",
    "hit",
    "let",
    "set",
    "shut",
    "hurt",
    "cast",
    "cost",
    "split",
    "spread",
    "burst",
    "rid",
    "shed",
    "thrust",
    "bet",
    "quit",
    "beat",
    "upset",
    "read",
    "slit",
    "knit",
    "broadcast",
    "reset",
];

/// A form of a word that may be irregular.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum SpecialForm {
    /// A noun's plural: `mice`.
    Plural,
    /// A verb's past: `ran`.
    Past,
    /// A verb's past participle: `stolen`.
    Participle,
}

/// Verbs whose participle is the plain form and whose past is another.
const BACK_AGAIN: [&str; 6] = ["come", "become", "overcome", "run", "outrun", "overrun"];

/// The irregular form of a plain word in small letters; none where the form is regular.
pub(crate) fn irregular_form(base: &str, form: SpecialForm) -> Option<&'static str> {
    let wanted = match form {
        SpecialForm::Plural => Parts::PLURAL,
        SpecialForm::Past => Parts::PAST,
        SpecialForm::Participle => Parts::PARTICIPLE,
    };
    if form == SpecialForm::Participle
        && let Some(same) = BACK_AGAIN.iter().find(|verb| **verb == base)
    {
        return Some(same);
    }
    let forms = BY_BASE.get(base).map_or(&[][..], Vec::as_slice);
    let is_wanted = |word: &&str| irregular(word, letters_of(base)) & wanted != 0;
    let same = || SAME.into_iter().find(|verb| *verb == base && wanted != Parts::PLURAL);
    forms.iter().copied().find(is_wanted).or_else(same)
}

/// The words that a form in small letters is an irregular form of.
pub(crate) fn irregular_base(form: &str) -> Option<&'static str> {
    IRREGULAR.get(form).copied()
}

/// Each plain word with its irregular forms.
static BY_BASE: LazyLock<HashMap<&str, Vec<&str>>> = LazyLock::new(|| {
    let mut forms: HashMap<&str, Vec<&str>> = HashMap::new();
    let lines = wordlist!("irregular-forms.txt").lines().filter(|line| !line.starts_with('#'));
    for (form, base) in lines.filter_map(|line| line.split_once(' ')) {
        forms.entry(base).or_default().push(form);
    }
    forms
});

static IRREGULAR: LazyLock<HashMap<&str, &str>> = LazyLock::new(|| {
    let lines = wordlist!("irregular-forms.txt").lines().filter(|line| !line.starts_with('#'));
    lines.filter_map(|line| line.split_once(' ')).collect()
});

const LIST: &str = wordlist!("parts-of-speech.txt");

/// The parts of a plain form as the list has them, the commonest first; none where it lacks the word. The list is in
/// the order of its bytes, so that it is looked up as it is and nothing has to be built.
fn letters_of(word: &str) -> &'static str {
    let bytes = LIST.as_bytes();
    // The heading's lines begin with a sign that comes before every letter.
    let (mut low, mut high) = (0, bytes.len());
    while low < high {
        let middle = low + (high - low) / 2;
        let start = bytes[low..middle].iter().rposition(|byte| *byte == b'\n').map_or(low, |at| low + at + 1);
        let end = bytes[middle..].iter().position(|byte| *byte == b'\n').map_or(bytes.len(), |at| middle + at);
        let line = &LIST[start..end];
        let (entry, letters) = line.split_once(' ').unwrap_or((line, ""));
        match entry.cmp(word) {
            std::cmp::Ordering::Equal => return letters,
            std::cmp::Ordering::Less => low = end + 1,
            std::cmp::Ordering::Greater => high = start,
        }
    }
    ""
}

#[cfg(test)]
mod tests {
    use super::Parts;

    #[test]
    fn words_and_their_forms_are_known() {
        for (word, parts) in [
            ("lamp", Parts::NOUN),
            ("lamps", Parts::PLURAL),
            ("stolen", Parts::PARTICIPLE),
            ("stole", Parts::PAST),
            ("carried", Parts::PAST),
            ("hiding", Parts::GERUND),
            ("carries", Parts::PRESENT),
            ("watches", Parts::PRESENT),
            ("put", Parts::PARTICIPLE),
            ("mice", Parts::PLURAL),
            ("quietly", Parts::ADVERB),
            ("brave", Parts::ADJECTIVE),
        ] {
            assert!(Parts::of(word).any(parts), "{word}: {:?}", Parts::of(word));
        }
        for word in ["stole", "went", "gave"] {
            assert!(!Parts::of(word).any(Parts::PARTICIPLE), "{word}");
        }
        assert_eq!(Parts::of("zzyx"), Parts::default());
    }
}
