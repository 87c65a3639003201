//! MIL-STD-105E (1989), table II-C: single sampling, reduced inspection.

use super::{CodeLetter, Table, printed};

/// Letter, sample size, then a column for each AQL from 0.010 to 1000. A cell is the acceptance and the rejection number.
/// v: the first plan below; ^: the first plan above. Of one source.
/// ISO 2859-1:1999 has other numbers here, with no gap between the two; they are not in this crate.
pub(super) static REDUCED: Table<{ CodeLetter::COUNT }> = printed(
    "\
A     2  v v v v v v v v v v v v 0/1 0/1 0/1 0/2 0/2 1/2 2/3 3/4 5/6 7/8 10/11 14/15 21/22 30/31
B     2  v v v v v v v v v v v v 0/1 0/1 0/1 0/2 0/2 1/3 2/4 3/5 5/6 7/8 10/11 14/15 21/22 30/31
C     2  v v v v v v v v v v v v 0/1 0/1 v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 14/17 21/24 30/31
D     3  v v v v v v v v v v v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 14/17 21/24 ^ ^
E     5  v v v v v v v v v v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 14/17 21/24 ^ ^ ^
F     8  v v v v v v v v v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^
G    13  v v v v v v v v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^
H    20  v v v v v v v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^
J    32  v v v v v v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^
K    50  v v v v v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^
L    80  v v v v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^
M   125  v v v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^
N   200  v v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^
P   315  v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^
Q   500  0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^
R   800  ^ ^ 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^
",
);
