//! Numbers on the command line, as people write them.

use std::ffi::OsString;

/// Arguments with each negative number that has a decimal comma joined to the flag before it: alone it would be taken
/// for a flag of its own, and what is wrong with it could not be told.
pub(super) fn joined(arguments: impl Iterator<Item = OsString>) -> Vec<OsString> {
    let mut joined: Vec<OsString> = Vec::new();
    for argument in arguments {
        match joined.last_mut() {
            Some(flag) if is_flag(flag) && is_with_comma(&argument) => {
                flag.push("=");
                flag.push(argument);
            }
            _ => joined.push(argument),
        }
    }
    joined
}

fn is_flag(argument: &OsString) -> bool {
    argument.to_str().is_some_and(|text| text.starts_with("--") && text.len() > 2 && !text.contains('='))
}

fn is_with_comma(argument: &OsString) -> bool {
    let number = argument.to_str().and_then(|text| text.strip_prefix('-'));
    number.is_some_and(|number| number.contains(',') && number.starts_with(|sign: char| sign.is_ascii_digit()))
}

/// A number with a decimal point; of another the mend is told, where it is plain.
pub(super) fn decimal(text: &str) -> Result<f64, String> {
    text.parse().map_err(|_| {
        let pointed = text.replace(',', ".").replace('−', "-");
        match pointed.parse::<f64>() {
            Ok(_) => format!("no number; write {pointed}"),
            Err(_) => "no number".to_owned(),
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_with_a_comma_goes_to_its_flag() {
        let given = ["rimwise", "lens", "--sphere", "-6,25", "--cylinder=-1,5", "-7,5", "--axis", "-5", "--", "-1,5"];
        let all = joined(given.iter().map(OsString::from));
        let wanted = ["rimwise", "lens", "--sphere=-6,25", "--cylinder=-1,5", "-7,5", "--axis", "-5", "--", "-1,5"];
        assert_eq!(all, wanted);
        assert_eq!(decimal("5,5"), Err("no number; write 5.5".to_owned()));
        assert_eq!(decimal("-5.5"), Ok(-5.5));
    }
}
