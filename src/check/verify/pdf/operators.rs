//! Operators that are well written. Where one is not, some readers stop, some go on, and what a
//! page shows can't be told.

use super::cursor::find;
use hayro_syntax::content::Instruction;
use hayro_syntax::object::Object;

/// An operator of no meaning, put behind content: it is reached where nothing stops before.
const END: &[u8] = b"EndOfContent";

/// Content with an end that can be told; none where it has the same already.
pub(super) fn with_end(mut content: Vec<u8>) -> Option<Vec<u8>> {
    if find(&content, END).is_some() {
        return None;
    }
    content.push(b'\n');
    content.extend_from_slice(END);
    Some(content)
}

/// Whether an operator is the end that was put behind content.
pub(super) fn is_end(operator: &[u8]) -> bool {
    operator == END
}

/// Whether an operator is one, and has before it what it takes (ISO 32000-1, Annex A).
pub(super) fn is_well_written(instruction: &Instruction<'_, '_>) -> bool {
    let operator: &[u8] = instruction.operator.as_ref();
    let takes = match operator {
        b"b" | b"B" | b"b*" | b"B*" | b"BT" | b"EMC" | b"ET" | b"f" | b"F" | b"f*" | b"h"
        | b"n" | b"q" | b"Q" | b"s" | b"S" | b"T*" | b"W" | b"W*" | b"BX" | b"EX" => 0,
        b"g" | b"G" | b"i" | b"j" | b"J" | b"M" | b"Tc" | b"TL" | b"Tr" | b"Ts" | b"Tw" | b"Tz"
        | b"w" => 1,
        b"l" | b"m" | b"Td" | b"TD" | b"d0" => 2,
        b"rg" | b"RG" => 3,
        b"k" | b"K" | b"re" | b"v" | b"y" => 4,
        b"c" | b"cm" | b"Tm" | b"d1" => 6,
        // What these take are not, or not only, numbers.
        b"BDC" | b"BMC" | b"cs" | b"CS" | b"d" | b"Do" | b"DP" | b"gs" | b"MP" | b"ri" | b"sc"
        | b"SC" | b"scn" | b"SCN" | b"sh" | b"Tf" | b"Tj" | b"TJ" | b"'" | b"\"" => return true,
        _ => return false,
    };
    let mut operands = instruction.operands();
    operands.all(|operand| matches!(operand, Object::Number(_)))
        && instruction.operands().count() == takes
}
