/** What a maker can do when an order does not mount neatly, side by side, each with its price. */
import type { Pattern } from '../pattern/index.ts';
import { applyStart, findStarts, type Start } from './find-starts.ts';
import { applyLeadIn, type LeadIn, leadIn } from './lead-in.ts';
import type { MountPlan } from './mount-plan.ts';
import { planMount } from './plan-mount.ts';
import { tellOfPart, type Watched } from './progress.ts';
import { type Recolouring, recolour } from './recolour.ts';

/** Steps of a table that recolouring takes here; what is not proven then can be worked on by itself. */
const MOST_STEPS = 1e9;

/** One way out. `plan` is what is then mounted. */
export type WayOut =
  /** Begin elsewhere. Costs nothing; `start.plan.neat` says whether it helps fully. Only listed where it crosses less. */
  | { readonly kind: 'start'; readonly start: Start; readonly plan: MountPlan }
  /** Work rows above the pattern once. Costs `leadIn.rows` rows. */
  | { readonly kind: 'lead-in'; readonly leadIn: LeadIn; readonly plan: MountPlan }
  /** Recolour `recolouring.changes`; `furtherSingles`: singles more than now. */
  | {
      readonly kind: 'recolour';
      readonly rule: 'forced' | 'kept';
      readonly recolouring: Recolouring;
      readonly furtherSingles: number;
      readonly plan: MountPlan;
    }
  /** Mount `furtherSingles` more strings with one long end. */
  | { readonly kind: 'singles'; readonly furtherSingles: number; readonly plan: MountPlan }
  /** Leave it: so many crossings, bars of these colours show on the back. */
  | {
      readonly kind: 'accept';
      readonly crossings: number;
      readonly shown: readonly { readonly colour: string; readonly crossings: number }[];
      readonly plan: MountPlan;
    };

/** Every way to mount an order, each with its price. */
export interface WaysOut {
  /** The order as it is. */
  readonly plan: MountPlan;
  /** In the order start, lead-in, recolour (without further singles, then with, where that changes fewer), singles, accept. None where `plan.neat`. */
  readonly ways: readonly WayOut[];
}

/** What the ways out may use. */
export interface WaysOutOptions extends Watched {
  /** Further colours that recolouring may use. */
  readonly palette?: readonly string[];
  /** Told the ways known so far, in their order, each time there is one more or a better one. */
  readonly onBest?: (best: WaysOut) => void;
}

/**
 * Every way out, with its price and with what it needs to be applied.
 * Costs what its parts cost. Rule M16.
 */
export function waysOut(pattern: Pattern, options: WaysOutOptions = {}): WaysOut {
  const { colours, start } = pattern;
  const plan = planMount(colours);
  if (plan.neat) {
    options.onProgress?.(1);
    return { plan, ways: [] };
  }
  const part = (from: number, to: number): Watched => ({ onProgress: tellOfPart(options, from, to) });
  const palette = options.palette === undefined ? {} : { palette: options.palette };
  const free = planMount(colours, { singles: 'free' });
  const last: readonly WayOut[] = [
    { kind: 'singles', furtherSingles: free.singles.length - plan.singles.length, plan: free },
    { kind: 'accept', crossings: plan.crossings.length, shown: shownOnTheBack(plan), plan },
  ];
  const tellBest = (ways: readonly WayOut[]): void => options.onBest?.({ plan, ways: [...ways, ...last] });
  tellBest([]);

  const ways: WayOut[] = [];
  const [best] = findStarts(pattern, part(0, 0.4));
  if (best !== undefined && best.plan.crossings.length < plan.crossings.length)
    ways.push({ kind: 'start', start: best, plan: best.plan });
  const wayOf = (lead: LeadIn): WayOut => ({ kind: 'lead-in', leadIn: lead, plan: lead.plan });
  ways.push(
    wayOf(
      leadIn(colours, {
        ...part(0.4, 0.7),
        start,
        onBest: (lead) => tellBest([...ways, wayOf(lead)]),
      }),
    ),
  );
  tellBest(ways);
  const kept = recolour(colours, { ...part(0.7, 0.8), ...palette, singles: 'kept', mostSteps: MOST_STEPS });
  const forced = recolour(colours, { ...part(0.8, 1), ...palette, mostSteps: MOST_STEPS });
  const recolourings: [rule: 'kept' | 'forced', recolouring: Recolouring][] = [['kept', kept]];
  if (forced.changes.length < kept.changes.length) recolourings.push(['forced', forced]);
  for (const [rule, recolouring] of recolourings)
    ways.push({
      kind: 'recolour',
      rule,
      recolouring,
      furtherSingles: Math.max(0, recolouring.plan.singles.length - plan.singles.length),
      plan: recolouring.plan,
    });
  return { plan, ways: [...ways, ...last] };
}

/** Colours that show, most crossings first, then by name of colour. */
function shownOnTheBack(plan: MountPlan): { readonly colour: string; readonly crossings: number }[] {
  const counts = new Map<string, number>();
  for (const { colour } of plan.faults) counts.set(colour, (counts.get(colour) ?? 0) + 1);
  return [...counts]
    .map(([colour, crossings]) => ({ colour, crossings }))
    .sort((a, b) => b.crossings - a.crossings || (a.colour < b.colour ? -1 : 1));
}

/**
 * The pattern after a way out is taken, in one edit.
 * @returns the pattern, and how many rows were put above it to be worked once. Singles and acceptance change nothing.
 * @throws RangeError when the way is for another pattern.
 */
export function applyWayOut(
  pattern: Pattern,
  way: WayOut,
): { readonly pattern: Pattern; readonly leadInRows: number } {
  switch (way.kind) {
    case 'start':
      return { pattern: applyStart(pattern, way.start), leadInRows: 0 };
    case 'lead-in':
      return { pattern: applyLeadIn(pattern, way.leadIn), leadInRows: way.leadIn.rows };
    case 'recolour': {
      const { colours } = way.recolouring;
      if (colours.length !== pattern.colours.length)
        throw new RangeError(`${colours.length} colours do not fit ${pattern.colours.length} strings`);
      return { pattern: { ...pattern, colours: [...colours] }, leadInRows: 0 };
    }
    case 'singles':
    case 'accept':
      return { pattern, leadInRows: 0 };
  }
}
