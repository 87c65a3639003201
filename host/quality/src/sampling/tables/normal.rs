//! MIL-STD-105E (1989), table II-A: single sampling, normal inspection.

use super::{CodeLetter, Table, printed};

/// Letter, sample size, then a column for each AQL from 0.010 to 1000. A cell is the acceptance number; the rejection
/// number is one more. v: the first plan below; ^: the first plan above. Two sources agree in every
/// letter.
pub(super) static NORMAL: Table<{ CodeLetter::COUNT }> = printed(
    "\
A     2   v  v  v  v  v  v  v  v  v  v  v  v  v  v  0  v  v  1  2  3  5  7 10 14 21 30
B     3   v  v  v  v  v  v  v  v  v  v  v  v  v  0  ^  v  1  2  3  5  7 10 14 21 30 44
C     5   v  v  v  v  v  v  v  v  v  v  v  v  0  ^  v  1  2  3  5  7 10 14 21 30 44  ^
D     8   v  v  v  v  v  v  v  v  v  v  v  0  ^  v  1  2  3  5  7 10 14 21 30 44  ^  ^
E    13   v  v  v  v  v  v  v  v  v  v  0  ^  v  1  2  3  5  7 10 14 21 30 44  ^  ^  ^
F    20   v  v  v  v  v  v  v  v  v  0  ^  v  1  2  3  5  7 10 14 21  ^  ^  ^  ^  ^  ^
G    32   v  v  v  v  v  v  v  v  0  ^  v  1  2  3  5  7 10 14 21  ^  ^  ^  ^  ^  ^  ^
H    50   v  v  v  v  v  v  v  0  ^  v  1  2  3  5  7 10 14 21  ^  ^  ^  ^  ^  ^  ^  ^
J    80   v  v  v  v  v  v  0  ^  v  1  2  3  5  7 10 14 21  ^  ^  ^  ^  ^  ^  ^  ^  ^
K   125   v  v  v  v  v  0  ^  v  1  2  3  5  7 10 14 21  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^
L   200   v  v  v  v  0  ^  v  1  2  3  5  7 10 14 21  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^
M   315   v  v  v  0  ^  v  1  2  3  5  7 10 14 21  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^
N   500   v  v  0  ^  v  1  2  3  5  7 10 14 21  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^
P   800   v  0  ^  v  1  2  3  5  7 10 14 21  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^
Q  1250   0  ^  v  1  2  3  5  7 10 14 21  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^
R  2000   ^  ^  1  2  3  5  7 10 14 21  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^
",
);
