//! Counts the syllables of figures as they are spoken in English.
//!
//! - `12`, `1,000`: as a number, without "and": one hundred five. Above twelve digits, and with a zero in front,
//!   digit by digit.
//! - `1984`, `2026`: four digits from 1100 to 2099 without a comma are a year: nineteen eighty-four, twenty
//!   twenty-six; nineteen oh five; nineteen hundred; two thousand five.
//! - `3.5`: three point five, the digits behind the point one by one.
//! - `21st`: as an ordinal. `1980s`: nineteen eighties, as many syllables as `1980`.
//! - Other letters among the digits are spoken by their names: `3D`, `B2B`.
//!
//! Signs beside the figures (`$5`, `50%`) are no words and are not spoken.

/// Syllables of zero to nineteen.
const SMALL: [u32; 20] = [2, 1, 1, 1, 1, 1, 1, 2, 1, 1, 1, 3, 1, 2, 2, 2, 2, 3, 2, 2];
/// Syllables of twenty, thirty ... ninety.
const TENS: [u32; 8] = [2, 2, 2, 2, 2, 3, 2, 2];
/// Above this many digits a number is spoken digit by digit.
const LONGEST_NUMBER: usize = 12;

/// Syllables of a word that holds a digit; at least 1.
pub(super) fn syllables(word: &str) -> u32 {
    let stretches = word.split_inclusive(|character: char| !is_of_number(character));
    let mut count: u32 = 0;
    for stretch in stretches {
        let number = stretch.trim_end_matches(|character: char| !is_of_number(character));
        count = count.saturating_add(of_number(number));
    }
    count.saturating_add(of_suffix(word)).max(1)
}

fn is_of_number(character: char) -> bool {
    character.is_ascii_digit() || matches!(character, '.' | ',')
}

/// The syllables of a stretch of digits, commas and points.
fn of_number(number: &str) -> u32 {
    let (whole, decimals) = number.split_once('.').unwrap_or((number, ""));
    let spoken = match whole {
        "" => 0,
        _ if is_year(whole) && decimals.is_empty() => of_year(value(whole)),
        _ => of_whole(whole),
    };
    let behind = of_digits(decimals);
    if behind == 0 { spoken } else { spoken.saturating_add(1).saturating_add(behind) }
}

/// The syllables of a number without decimals.
fn of_whole(number: &str) -> u32 {
    let digits = number.bytes().filter(u8::is_ascii_digit).count();
    let by_digits = digits > LONGEST_NUMBER || (digits > 1 && number.starts_with('0'));
    if by_digits { of_digits(number) } else { of_value(value(number)) }
}

/// The syllables of digits that are spoken one by one.
fn of_digits(digits: &str) -> u32 {
    let spoken = digits.bytes().filter(u8::is_ascii_digit).map(|digit| SMALL[usize::from(digit - b'0')]);
    spoken.fold(0, u32::saturating_add)
}

fn value(number: &str) -> u64 {
    let digits = number.bytes().filter(u8::is_ascii_digit);
    digits.fold(0, |value: u64, digit| value.saturating_mul(10).saturating_add(u64::from(digit - b'0')))
}

fn is_year(number: &str) -> bool {
    number.len() == 4 && (1100..2100).contains(&value(number)) && !number.contains(',')
}

fn of_year(year: u64) -> u32 {
    match (year / 100, year % 100) {
        (20, 0..10) => of_value(year),
        (century, 0) => of_value(century) + 2,
        (century, unit @ 1..10) => of_value(century) + 1 + of_value(unit),
        (century, rest) => of_value(century) + of_value(rest),
    }
}

/// The syllables of a number below one trillion, group by group: `1,234` is one thousand, two hundred, thirty-four.
fn of_value(value: u64) -> u32 {
    const GROUPS: [(u64, u32); 4] = [(1_000_000_000, 2), (1_000_000, 2), (1_000, 2), (100, 2)];
    if let Some((size, name)) = GROUPS.into_iter().find(|(size, _)| value >= *size) {
        let rest = value % size;
        return of_value(value / size) + name + if rest == 0 { 0 } else { of_value(rest) };
    }
    let below_hundred = usize::try_from(value).unwrap_or(0);
    match below_hundred {
        0..20 => SMALL[below_hundred],
        _ if below_hundred % 10 == 0 => TENS[below_hundred / 10 - 2],
        _ => TENS[below_hundred / 10 - 2] + SMALL[below_hundred % 10],
    }
}

/// The syllables that the letters among the digits add.
fn of_suffix(word: &str) -> u32 {
    let letters = word.trim_start_matches(is_of_number).to_lowercase();
    match letters.as_str() {
        "st" | "nd" | "rd" | "th" => of_ordinal(value(word)),
        "s" | "'s" | "’s" => 0,
        _ => {
            let names = word.chars().filter(|letter| letter.is_alphabetic()).map(of_letter);
            names.fold(0, u32::saturating_add)
        }
    }
}

/// How many more syllables an ordinal has than its number: one for `second` and `twentieth`, else none.
fn of_ordinal(value: u64) -> u32 {
    let (tens, units) = (value % 100 / 10, value % 10);
    u32::from((units == 2 && tens != 1) || (units == 0 && tens >= 2))
}

/// Syllables of a letter's name.
pub(super) fn of_letter(letter: char) -> u32 {
    if matches!(letter, 'w' | 'W') { 3 } else { 1 }
}

#[cfg(test)]
mod tests {
    use super::syllables;

    /// Counted by hand from the words that are spoken.
    #[test]
    fn figures_as_spoken() {
        for (figure, spoken, count) in [
            ("0", "ze-ro", 2),
            ("7", "sev-en", 2),
            ("12", "twelve", 1),
            ("70", "sev-en-ty", 3),
            ("99", "nine-ty nine", 3),
            ("105", "one hun-dred five", 4),
            ("1,000", "one thou-sand", 3),
            ("1,234", "one thou-sand two hun-dred thir-ty four", 9),
            ("2500000", "two mil-lion five hun-dred thou-sand", 8),
            ("1918", "nine-teen eight-een", 4),
            ("2026", "twen-ty twen-ty six", 5),
            ("1905", "nine-teen oh five", 4),
            ("1900", "nine-teen hun-dred", 4),
            ("2005", "two thou-sand five", 4),
            ("1980s", "nine-teen eight-ies", 4),
            ("3.5", "three point five", 3),
            ("0.25", "ze-ro point two five", 5),
            ("007", "ze-ro ze-ro sev-en", 6),
            ("1st", "first", 1),
            ("2nd", "sec-ond", 2),
            ("12th", "twelfth", 1),
            ("20th", "twen-ti-eth", 3),
            ("21st", "twen-ty first", 3),
            ("100th", "one hun-dredth", 3),
            ("3D", "three dee", 2),
            ("B2B", "bee two bee", 3),
            ("4x4", "four ex four", 3),
            ("9780000000002", "digit by digit", 23),
        ] {
            assert_eq!(syllables(figure), count, "{figure}: {spoken}");
        }
    }
}
