/** From what should show to the strings and knots that show it. */
import { Budget, type Watch } from './budget.ts';
import { type FewestWrong, fewestWrong } from './fewest-wrong.ts';
import { hungColours, type LaidOut, layOut, routingOf } from './picture-routing.ts';
import type { Route } from './routing.ts';
import { answerOrError, Refusal, type SolveError } from './solve-error.ts';
import { type ReadOptions, readOptions, type SolveOptions } from './solve-options.ts';
import { readTarget, type SolveTarget } from './target.ts';

/** A board, and how near it comes to the picture. Every figure was counted on the woven board. */
interface SolvedPicture extends LaidOut {
  readonly ok: true;
  /** Proven: no board under these options has a lower sum of weights. Of strings that have wanted or given colours only. */
  readonly lowerBound: number;
  /** Whether `wrongWeight` is proven to be the least. */
  readonly proven: boolean;
}

/** What {@link solvePicture} may be told and asked while it works. */
interface SolveWatch {
  /** Told each better answer as it is found; the last one told may be given, with a better bound. */
  readonly onBest?: (best: SolvedPicture) => void;
}

/**
 * Strings, order and knots for a picture, with as few wrong cells as the steps find. The number of strings, the stagger and the rows stay.
 * A picture is possible where colours can be led so that in each cell one of the two strings has the wanted colour; that is decided by
 * learning from conflicts (engine/solve/INTERNALS.md). Where it is not possible the cells that conflict give `lowerBound`, and ever better
 * boards are looked for until none is left (`proven`) or the steps are used up. Same input, same answer, on every machine.
 * @returns the answer, or what is wrong with target or options; never throws for what they hold. Inputs untouched. Rules Z1 to Z14.
 */
export function solvePicture(
  target: SolveTarget,
  options: SolveOptions & SolveWatch = {},
): SolvedPicture | { readonly ok: false; readonly error: SolveError } {
  return answerOrError(() => {
    const read = readTarget(target);
    return solve(read, readOptions(options, read), options);
  });
}

function solve(target: SolveTarget, options: ReadOptions, watch: SolveWatch & Watch): SolvedPicture {
  const hung = hungColours(target, options);
  const budget = new Budget(options.steps, watch);
  const most = options.leadInRows;
  let toldWeight = Infinity;
  const attempt = (rows: number, share: number): Attempt => {
    const routing = routingOf(target, options, hung, rows);
    const answer = (route: Route, lowerBound: number): SolvedPicture => {
      const laid = layOut(target, options, routing, route, hung);
      return { ok: true, ...laid, lowerBound, proven: laid.wrongWeight <= lowerBound };
    };
    const found = fewestWrong(routing, budget.part(options.steps * share), {
      onBest: (route, cost, lowerBound) => {
        if (cost >= toldWeight) return;
        toldWeight = cost;
        watch.onBest?.(answer(route, most === 0 ? lowerBound : 0));
      },
    });
    return { ...found, best: found.route === null ? null : answer(found.route, 0) };
  };
  const first = attempt(0, most === 0 ? 1 : 0.3);
  if (most === 0 || first.cost === 0) return settled([first], first.lowerBound);
  // What a lead-in of some rows can do one of more rows can: its further rows keep the order. So the longest gives the bound.
  const longest = attempt(most, 0.4);
  const attempts = [first];
  for (let rows = 1; rows < most && attempts.every(({ cost }) => cost > longest.cost); rows++)
    attempts.push(attempt(rows, 0.3 / (most - 1)));
  return settled([...attempts, longest], longest.lowerBound);
}

/** What was found with one number of lead-in rows. */
interface Attempt extends FewestWrong {
  readonly best: SolvedPicture | null;
}

/** The best of the attempts, the first of equals, with what is proven of all. @throws Refusal when none found a board */
function settled(attempts: readonly Attempt[], lowerBound: number): SolvedPicture {
  let chosen: SolvedPicture | null = null;
  for (const { best } of attempts)
    if (best !== null && (chosen === null || best.wrongWeight < chosen.wrongWeight)) chosen = best;
  if (chosen === null) {
    if (attempts.every(({ isImpossible }) => isImpossible))
      throw new Refusal('cannot-be', 'options', 'no board meets all of them');
    throw new Refusal('too-few-steps', 'options.steps', 'no board was found in so many steps');
  }
  return { ...chosen, lowerBound, proven: chosen.wrongWeight <= lowerBound };
}
