// Chance that comes out the same each time: a linear congruential generator (Numerical Recipes, 3rd edition, 7.1.1).
export function random(seed) {
  let state = BigInt(seed);
  const next = () => {
    state = (state * 3935559000370003845n + 2691343689449507681n) & 0xffffffffffffffffn;
    return Number(state >> 11n) / 2 ** 53;
  };
  for (let i = 0; i < 8; i++) next();
  return {
    between: (low, high) => low + (high - low) * next(),
    oneOf: (list) => list[Math.floor(next() * list.length)],
  };
}
