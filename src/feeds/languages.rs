//! Languages as library codes name them, and as a brief does.
//!
//! Source: ISO 639-2, whose bibliographic codes have three letters, and ISO 639-1, of two letters, which a language tag
//! has where there is one (RFC 5646, 2.2.1).

/// Bibliographic codes with the tags of the same languages.
const TAGS: [(&str, &str); 62] = [
    ("afr", "af"),
    ("alb", "sq"),
    ("ara", "ar"),
    ("arm", "hy"),
    ("baq", "eu"),
    ("bel", "be"),
    ("ben", "bn"),
    ("bul", "bg"),
    ("cat", "ca"),
    ("chi", "zh"),
    ("cze", "cs"),
    ("dan", "da"),
    ("dut", "nl"),
    ("eng", "en"),
    ("epo", "eo"),
    ("est", "et"),
    ("fin", "fi"),
    ("fre", "fr"),
    ("geo", "ka"),
    ("ger", "de"),
    ("gla", "gd"),
    ("gle", "ga"),
    ("glg", "gl"),
    ("gre", "el"),
    ("guj", "gu"),
    ("heb", "he"),
    ("hin", "hi"),
    ("hrv", "hr"),
    ("hun", "hu"),
    ("ice", "is"),
    ("ind", "id"),
    ("ita", "it"),
    ("jpn", "ja"),
    ("kor", "ko"),
    ("lat", "la"),
    ("lav", "lv"),
    ("lit", "lt"),
    ("ltz", "lb"),
    ("mac", "mk"),
    ("may", "ms"),
    ("mlt", "mt"),
    ("nno", "nn"),
    ("nob", "nb"),
    ("nor", "no"),
    ("oci", "oc"),
    ("per", "fa"),
    ("pol", "pl"),
    ("por", "pt"),
    ("rum", "ro"),
    ("rus", "ru"),
    ("slo", "sk"),
    ("slv", "sl"),
    ("spa", "es"),
    ("srp", "sr"),
    ("swa", "sw"),
    ("swe", "sv"),
    ("tam", "ta"),
    ("tur", "tr"),
    ("ukr", "uk"),
    ("urd", "ur"),
    ("vie", "vi"),
    ("wel", "cy"),
];

/// The language tag of a bibliographic code; a code without a shorter tag is its own.
pub(super) fn tag(code: &str) -> &str {
    TAGS.binary_search_by_key(&code, |(known, _)| known).map_or(code, |at| TAGS[at].1)
}

#[cfg(test)]
mod tests {
    use super::{TAGS, tag};

    #[test]
    fn every_code_is_found() {
        assert!(TAGS.is_sorted());
        assert!(TAGS.iter().all(|(code, short)| tag(code) == *short));
        assert_eq!(tag("gsw"), "gsw");
    }
}
