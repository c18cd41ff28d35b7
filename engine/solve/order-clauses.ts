/** What the order at the top must be like, as clauses. */
import type { ClauseSolver } from './clauses/index.ts';
import type { TopRule } from './routing.ts';

/** Beyond so many strings folds reach over at most {@link LONGEST_FOLD} places, for all pairs of folds that cross would be too many. */
const ALL_FOLDS = 60;
const LONGEST_FOLD = 20;

/** Whether {@link addTopRule} leaves out orders that the rule would allow, so that what is refuted with it is not refuted. */
export function isRuleNarrowed(rule: TopRule, strings: number): boolean {
  return rule.nested && rule.given === null && strings > ALL_FOLDS;
}

/**
 * Adds a rule for the order of `strings` places.
 * @param hangs the literal that says that a colour hangs at a place
 */
export function addTopRule(
  solver: ClauseSolver,
  rule: TopRule,
  strings: number,
  colours: number,
  hangs: (place: number, colour: number) => number,
): void {
  rule.given?.forEach((colour, place) => {
    solver.add([hangs(place, colour)]);
  });
  if (rule.mirrored) {
    for (let place = 0; place < strings >> 1; place++)
      for (let colour = 0; colour < colours; colour++) {
        const left = hangs(place, colour);
        const right = hangs(strings - 1 - place, colour);
        solver.add([left ^ 1, right]);
        solver.add([left, right ^ 1]);
      }
  }
  if (rule.nested) addNestedFolds(solver, strings, colours, hangs);
  if (rule.mostOdd < colours) addFewOdd(solver, rule.mostOdd, strings, colours, hangs);
}

/** Every place is in one fold of its colour or single; folds cross neither each other nor is there a second single of a colour. */
function addNestedFolds(
  solver: ClauseSolver,
  strings: number,
  colours: number,
  hangs: (place: number, colour: number) => number,
): void {
  const longest = strings > ALL_FOLDS ? LONGEST_FOLD : strings;
  const folds: { readonly left: number; readonly right: number; readonly literal: number }[] = [];
  const ofPlace: number[][] = Array.from({ length: strings }, () => []);
  for (let left = 0; left < strings; left++)
    for (let right = left + 1; right < Math.min(strings, left + longest); right++) {
      const literal = 2 * solver.addVariables(1);
      folds.push({ left, right, literal });
      ofPlace[left]!.push(literal);
      ofPlace[right]!.push(literal);
      for (let colour = 0; colour < colours; colour++) {
        solver.add([literal ^ 1, hangs(left, colour) ^ 1, hangs(right, colour)]);
        solver.add([literal ^ 1, hangs(left, colour), hangs(right, colour) ^ 1]);
      }
    }
  const singles = Array.from({ length: strings }, () => 2 * solver.addVariables(1));
  singles.forEach((single, place) => {
    const own = [single, ...ofPlace[place]!];
    solver.add(own);
    own.forEach((one, i) => {
      for (let j = i + 1; j < own.length; j++) solver.add([one ^ 1, own[j]! ^ 1]);
    });
    for (let other = place + 1; other < strings; other++)
      for (let colour = 0; colour < colours; colour++)
        solver.add([single ^ 1, singles[other]! ^ 1, hangs(place, colour) ^ 1, hangs(other, colour) ^ 1]);
  });
  for (const a of folds)
    for (const b of folds)
      if (a.left < b.left && b.left < a.right && a.right < b.right)
        solver.add([a.literal ^ 1, b.literal ^ 1]);
}

/** At most `most` colours hang at an odd number of places: a chain of parities for each colour, then a count of those that end odd. */
function addFewOdd(
  solver: ClauseSolver,
  most: number,
  strings: number,
  colours: number,
  hangs: (place: number, colour: number) => number,
): void {
  const odd = Array.from({ length: colours }, (_, colour) => {
    let parity = hangs(0, colour);
    for (let place = 1; place < strings; place++) {
      const here = hangs(place, colour);
      const next = 2 * solver.addVariables(1);
      solver.add([next ^ 1, parity, here]);
      solver.add([next ^ 1, parity ^ 1, here ^ 1]);
      solver.add([next, parity ^ 1, here]);
      solver.add([next, parity, here ^ 1]);
      parity = next;
    }
    return parity;
  });
  // counted[i]: more than i of the colours so far end odd (sequential counter, Sinz 2005).
  let counted: number[] = [];
  for (const literal of odd) {
    const next = Array.from(
      { length: Math.min(counted.length + 1, most + 1) },
      () => 2 * solver.addVariables(1),
    );
    next.forEach((more, i) => {
      if (i < counted.length) solver.add([counted[i]! ^ 1, more]);
      if (i === 0) solver.add([literal ^ 1, more]);
      else if (i - 1 < counted.length) solver.add([literal ^ 1, counted[i - 1]! ^ 1, more]);
    });
    if (next.length === most + 1) solver.add([next[most]! ^ 1]);
    counted = next;
  }
}
