//! MIL-STD-105E (1989), table II-B: single sampling, tightened inspection.

use super::{CodeLetter, Table, printed};

/// Letter, sample size, then a column for each AQL from 0.010 to 1000. A cell is the acceptance number; the rejection
/// number is one more. v: the first plan below; ^: the first plan above. Two sources agree for A to L, AQL
/// 0.65 to 15; the rest is of one source. Of S only its one plan is printed.
pub(super) static TIGHTENED: Table<{ CodeLetter::COUNT + 1 }> = printed(
    "\
A     2   v  v  v  v  v  v  v  v  v  v  v  v  v  v  v  v  v  v  1  2  3  5  8 12 18 27
B     3   v  v  v  v  v  v  v  v  v  v  v  v  v  v  0  v  v  1  2  3  5  8 12 18 27 41
C     5   v  v  v  v  v  v  v  v  v  v  v  v  v  0  v  v  1  2  3  5  8 12 18 27 41  ^
D     8   v  v  v  v  v  v  v  v  v  v  v  v  0  v  v  1  2  3  5  8 12 18 27 41  ^  ^
E    13   v  v  v  v  v  v  v  v  v  v  v  0  v  v  1  2  3  5  8 12 18 27 41  ^  ^  ^
F    20   v  v  v  v  v  v  v  v  v  v  0  v  v  1  2  3  5  8 12 18  ^  ^  ^  ^  ^  ^
G    32   v  v  v  v  v  v  v  v  v  0  v  v  1  2  3  5  8 12 18  ^  ^  ^  ^  ^  ^  ^
H    50   v  v  v  v  v  v  v  v  0  v  v  1  2  3  5  8 12 18  ^  ^  ^  ^  ^  ^  ^  ^
J    80   v  v  v  v  v  v  v  0  v  v  1  2  3  5  8 12 18  ^  ^  ^  ^  ^  ^  ^  ^  ^
K   125   v  v  v  v  v  v  0  v  v  1  2  3  5  8 12 18  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^
L   200   v  v  v  v  v  0  v  v  1  2  3  5  8 12 18  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^
M   315   v  v  v  v  0  v  v  1  2  3  5  8 12 18  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^
N   500   v  v  v  0  v  v  1  2  3  5  8 12 18  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^
P   800   v  v  0  v  v  1  2  3  5  8 12 18  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^
Q  1250   v  0  v  v  1  2  3  5  8 12 18  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^
R  2000   0  ^  v  1  2  3  5  8 12 18  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^
S  3150   ^  ^  1  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^
",
);
