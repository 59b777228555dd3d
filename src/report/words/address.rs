//! Why no option is meant by an address.

use super::super::number::size;
use super::list;
use crate::job::{AddressFault, NOW, NoSuchName};

/// What is wrong with `written` under the flag `flag`: a clause without a full stop, as other refusals are.
#[must_use]
pub fn address_fault(flag: &str, written: &str, fault: &AddressFault) -> String {
    let why = match fault {
        AddressFault::Form => format!("wanted is FRAME/SIZE/LENS, as in Fennel/48/thin, or {NOW}"),
        AddressFault::NoPresent => "the job says nothing of spectacles worn now".to_owned(),
        AddressFault::Frame(missing) => no_such("frame", missing),
        AddressFault::Lens(missing) => no_such("lens", missing),
        AddressFault::Size { frame, found, sizes_mm } => {
            let sizes: Vec<String> = sizes_mm.iter().map(|value| size(*value)).collect();
            format!("“{frame}” comes in {}, not in “{found}”", list(&sizes))
        }
    };
    format!("{flag} is `{written}`: {why}")
}

fn no_such(what: &str, missing: &NoSuchName) -> String {
    let quoted = |names: &[String]| names.iter().map(|name| format!("“{name}”")).collect::<Vec<String>>();
    let mend = match missing.near.as_slice() {
        [] => format!("the job has {}", list(&quoted(&missing.all))),
        near => format!("did you mean {}?", quoted(near).join(" or ")),
    };
    format!("no {what} is called “{}”; {mend}", missing.found)
}
