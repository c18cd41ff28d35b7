/** Differences as a list in words: what belongs together is one line. */
import {
  type Change,
  type Conflict,
  changeKey,
  type Extent,
  type KeyedDesign,
} from '../../engine/document/index.ts';
import { type KnotCode, readSupplyKey } from '../../engine/index.ts';
import { type TextKey, t } from '../text/index.ts';
import { formatFine, formatNumber, readUnit } from '../units/index.ts';
import { cellOf } from './marks.ts';

/** Headings under which differences stand. */
export const DIFFERENCE_GROUPS = ['knots', 'strings', 'colours', 'piece'] as const;
/** One of {@link DIFFERENCE_GROUPS}. */
type DifferenceGroup = (typeof DIFFERENCE_GROUPS)[number];

/** Rows of a picture. */
export interface RowSpan {
  readonly from: number;
  readonly to: number;
}

/** One line of the list. */
export interface Difference {
  readonly group: DifferenceGroup;
  /** Keys of its changes; chosen and left together. */
  readonly keys: readonly string[];
  readonly text: string;
  /** Colours it speaks of. */
  readonly hexes: readonly string[];
  /** Where it is in the picture before and after; null = nowhere there. */
  readonly rows: readonly [RowSpan | null, RowSpan | null];
}

/** Both sides of a comparison. */
export interface Sides {
  readonly before: KeyedDesign;
  readonly after: KeyedDesign;
}

const KINDS = ['none', 'forward', 'backward', 'forwardBackward', 'backwardForward'] as const;
const NOWHERE: readonly [null, null] = [null, null];

/** A knot in a word. */
function knotName(knot: KnotCode): string {
  return t(`board.kind.${KINDS[knot]}`);
}

/** What differs, changes that go together in one: runs of knots in a row, rows and strings side by side. */
export function differencesOf(changes: readonly Change[], sides: Sides): readonly Difference[] {
  const differences: Difference[] = [...knotDifferences(changes, sides), ...pairDifferences(changes, sides)];
  differences.push(...stringColourDifferences(changes, sides));
  for (const change of changes) {
    const difference = aloneDifference(change, sides);
    if (difference !== null) differences.push(difference);
  }
  return DIFFERENCE_GROUPS.flatMap((group) => differences.filter((difference) => difference.group === group));
}

/** One question to whoever decides: conflicts that go together, and what each side says. */
export interface Question {
  readonly conflicts: readonly Conflict[];
  readonly what: string;
  readonly ours: string;
  readonly theirs: string;
  /** Where it is in the picture before and after; null = nowhere there. */
  readonly rows: Difference['rows'];
}

/** The conflicts as questions: runs of knots in a row are one. */
export function questionsOf(conflicts: readonly Conflict[], sides: Sides): readonly Question[] {
  const knots = new Map<Change, Conflict>();
  const others: Conflict[] = [];
  for (const conflict of conflicts) {
    const [first] = conflict.changes;
    if (first.kind === 'knot' && conflict.changes.length === 1) knots.set(first, conflict);
    else others.push(conflict);
  }
  return [
    ...runsOf([...knots.keys()], sides).map(({ run, row, k, rows }): Question => {
      const say = (of: (knot: Knot) => KnotCode): string =>
        run.every((one) => of(one) === of(run[0]!)) ? knotName(of(run[0]!)) : t('diff.severalKnots');
      return {
        conflicts: run.map((one) => knots.get(one)!),
        what:
          run.length === 1
            ? t('diff.oneKnot', { row: row + 1, k: k + 1 })
            : t('diff.someKnots', { row: row + 1, k: k + 1, last: k + run.length }),
        ours: say(({ before }) => before),
        theirs: say(({ after }) => after),
        rows,
      };
    }),
    ...others.map((conflict): Question => {
      const rows = differencesOf([conflict.changes[0]], sides)[0]?.rows ?? NOWHERE;
      return { conflicts: [conflict], ...sayConflict(conflict, sides), rows };
    }),
  ];
}

/** What a conflict is about, in words: one sentence for each side. */
function sayConflict(
  { why, changes }: Conflict,
  sides: Sides,
): { readonly what: string; readonly ours: string; readonly theirs: string } {
  const [first] = changes;
  const what = differencesOf([first], sides)[0]?.text ?? '';
  if (why === 'ours-removed') return { what, ours: t('diff.ours.staysGone'), theirs: t('diff.theirs.back') };
  if (why === 'theirs-removed') return { what, ours: t('diff.ours.keeps'), theirs: t('diff.theirs.removes') };
  switch (first.kind) {
    case 'pattern':
      return { what, ours: t('diff.ours.pattern'), theirs: t('diff.theirs.pattern') };
    case 'string-colour':
      return {
        what: t('diff.string', { at: stringNumber(sides.before, first.address) }),
        ours: colourName(sides.before, first.before),
        theirs: colourName(sides.after, first.after),
      };
    case 'title':
    case 'colour':
      return { what: labelOf(first, sides), ours: first.before || '–', theirs: first.after || '–' };
    case 'piece':
    case 'gauge':
    case 'supply':
      return {
        what: labelOf(first, sides),
        ours: sayValue(first.field, first.before),
        theirs: sayValue(first.field, first.after),
      };
    case 'extent':
      return { what: t('diff.extent'), ours: sayExtent(first.before), theirs: sayExtent(first.after) };
    default:
      return { what, ours: t('diff.ours.own'), theirs: t('diff.theirs.own') };
  }
}

type Knot = Extract<Change, { kind: 'knot' }>;

interface Run {
  readonly run: readonly Knot[];
  readonly row: number;
  readonly k: number;
  readonly rows: Difference['rows'];
}

/** Knots side by side in a row, from the top. Those that show in neither picture are left out. */
function runsOf(changes: readonly Change[], sides: Sides): readonly Run[] {
  const lines = new Map<string, { readonly k: number; readonly change: Knot }[]>();
  const columns = new Map(sides.before.stringPairIds.map((id, j) => [id, j]));
  for (const change of changes) {
    if (change.kind !== 'knot') continue;
    const key = `${change.address.rowPair} ${change.address.half}`;
    const line = lines.get(key) ?? [];
    line.push({ k: columns.get(change.address.stringPair) ?? -1, change });
    lines.set(key, line);
  }
  const runs: Run[] = [];
  for (const line of lines.values()) {
    line.sort((a, b) => a.k - b.k);
    for (let from = 0; from < line.length; ) {
      let to = from + 1;
      while (to < line.length && line[to]!.k === line[to - 1]!.k + 1) to++;
      const run = line.slice(from, to).map(({ change }) => change);
      const [was, is] = [cellOf(sides.before, run[0]!.address), cellOf(sides.after, run[0]!.address)];
      const cell = was ?? is;
      const spanOf = (one: typeof cell): RowSpan | null =>
        one === null ? null : { from: one.row, to: one.row };
      if (cell !== null) runs.push({ run, row: cell.row, k: cell.k, rows: [spanOf(was), spanOf(is)] });
      from = to;
    }
  }
  return runs.sort((a, b) => a.row - b.row || a.k - b.k);
}

function knotDifferences(changes: readonly Change[], sides: Sides): Difference[] {
  return runsOf(changes, sides).map(({ run, row, k, rows }) => ({
    group: 'knots',
    keys: run.map(changeKey),
    text: sayRun(run, row, k),
    hexes: [],
    rows,
  }));
}

function sayRun(run: readonly Knot[], row: number, k: number): string {
  const [first] = run;
  const isAlike = run.every(({ before, after }) => before === first!.before && after === first!.after);
  const values = { row: row + 1, k: k + 1, last: k + run.length };
  const from = knotName(first!.before);
  const to = knotName(first!.after);
  if (run.length === 1) return t('diff.knotTo', { ...values, from, to });
  return isAlike ? t('diff.knotsTo', { ...values, from, to }) : t('diff.knots', values);
}

type Pair = Extract<Change, { kind: 'rows-added' | 'rows-removed' | 'strings-added' | 'strings-removed' }>;

function pairDifferences(changes: readonly Change[], { before, after }: Sides): Difference[] {
  const differences: Difference[] = [];
  for (const kind of ['rows-added', 'rows-removed', 'strings-added', 'strings-removed'] as const) {
    const side = kind.endsWith('added') ? after : before;
    const isRows = kind.startsWith('rows');
    const list = isRows ? side.rowPairIds : side.stringPairIds;
    const at = new Map(list.map((id, i) => [id, i]));
    const found = changes
      .filter((change): change is Pair => change.kind === kind)
      .map((change) => ({ change, i: at.get(change.pair) ?? -1 }))
      .sort((a, b) => a.i - b.i);
    const { pattern } = side.board;
    const [shift, most] = isRows ? [pattern.start, pattern.rows] : [0, pattern.colours.length];
    for (let from = 0; from < found.length; ) {
      let to = from + 1;
      while (to < found.length && found[to]!.i === found[to - 1]!.i + 1) to++;
      const first = Math.max(0, found[from]!.i * 2 - shift);
      const last = Math.min(most - 1, found[to - 1]!.i * 2 + 1 - shift);
      const span = isRows ? { from: first, to: last } : null;
      differences.push({
        group: isRows ? 'knots' : 'strings',
        keys: found.slice(from, to).map(({ change }) => changeKey(change)),
        text: t(`diff.${kind}`, { from: first + 1, to: last + 1, count: last - first + 1 }),
        hexes: [],
        rows: side === after ? [null, span] : [span, null],
      });
      from = to;
    }
  }
  return differences;
}

type StringColour = Extract<Change, { kind: 'string-colour' }>;

function stringNumber(keyed: KeyedDesign, { stringPair, side }: StringColour['address']): number {
  return keyed.stringPairIds.indexOf(stringPair) * 2 + side + 1;
}

/** Strings that went from one colour to the same other one are one difference. */
function stringColourDifferences(changes: readonly Change[], sides: Sides): Difference[] {
  const groups = new Map<string, StringColour[]>();
  for (const change of changes) {
    if (change.kind !== 'string-colour') continue;
    const key = JSON.stringify([change.before, change.after]);
    groups.set(key, [...(groups.get(key) ?? []), change]);
  }
  return Array.from(groups.values(), (group): Difference => {
    const [{ before, after }] = group as [StringColour, ...StringColour[]];
    const strings = group.map(({ address }) => stringNumber(sides.before, address)).sort((a, b) => a - b);
    return {
      group: 'strings',
      keys: group.map(changeKey),
      text: t('diff.strings', {
        count: strings.length,
        strings: strings.join(', '),
        from: colourName(sides.before, before),
        to: colourName(sides.after, after),
      }),
      hexes: [hexOf(sides.before, before), hexOf(sides.after, after)],
      rows: NOWHERE,
    };
  });
}

function aloneDifference(change: Change, sides: Sides): Difference | null {
  const one = (group: DifferenceGroup, text: string, hexes: readonly string[] = []): Difference => ({
    group,
    keys: [changeKey(change)],
    text,
    hexes,
    rows: NOWHERE,
  });
  switch (change.kind) {
    case 'pattern':
      return one('knots', t('diff.pattern'));
    case 'end':
      return one(
        change.end === 'loneString' ? 'strings' : 'knots',
        t(`diff.${change.end}.${change.after ? 'hidden' : 'shown'}`),
      );
    case 'colour-added':
    case 'colour-removed':
      return one('colours', t(`diff.${change.kind}`, { name: change.colour.name || change.colour.hex }), [
        change.colour.hex,
      ]);
    case 'colour':
      return one(
        'colours',
        sayChange(labelOf(change, sides), change.before, change.after),
        change.field === 'hex' ? [change.before, change.after] : [hexOf(sides.before, change.id)],
      );
    case 'palette-order':
      return one('colours', t('diff.paletteOrder'));
    case 'colourway-added':
    case 'colourway-removed':
      return one('colours', t(`diff.${change.kind}`, { name: change.colourway.name || '–' }));
    case 'colourway':
      return one('colours', t('diff.colourway', { name: change.before.name || change.after.name || '–' }));
    case 'colourway-colour':
      return one(
        'colours',
        t('diff.colourwayColour', {
          name: nameOfColourway(sides, change.id),
          colour: colourName(sides.after, change.colour),
        }),
        [change.before, change.after].flatMap((shade) => (shade === null ? [] : [shade.hex])),
      );
    case 'title':
      return one('piece', sayChange(labelOf(change, sides), change.before, change.after));
    case 'extent':
      return one('piece', sayChange(t('diff.extent'), sayExtent(change.before), sayExtent(change.after)));
    case 'piece':
    case 'gauge':
    case 'supply':
      if (change.field === 'notes') return one('piece', t('diff.notes'));
      return one(
        'piece',
        sayChange(
          labelOf(change, sides),
          sayValue(change.field, change.before),
          sayValue(change.field, change.after),
        ),
      );
    default:
      return null;
  }
}

/** What it was and is; a dash for nothing. */
function sayChange(what: string, from: string, to: string): string {
  return t('diff.change', { what, from: from || '–', to: to || '–' });
}

function labelOf(change: Change, sides: Sides): string {
  switch (change.kind) {
    case 'title':
      return t('diff.title');
    case 'colour':
      return t(`diff.colour.${change.field}`, { name: colourName(sides.before, change.id) });
    case 'piece':
    case 'gauge':
      return t(`diff.field.${change.field}`);
    case 'supply':
      return labelOfSupply(change.field, sides);
    default:
      return '';
  }
}

/** A thread goes by its name and a part by its own, else by what they are. */
function labelOfSupply(key: string, { before, after }: Sides): string {
  const said = readSupplyKey(key);
  if (said === null) return key;
  const field = t(`diff.supply.${said.of}.${said.field}` as TextKey);
  if (said.of === 'thread') return t('diff.supply', { what: said.name || said.hex, field });
  const [now, then] = [after, before].map(({ board }) =>
    board.supplies?.parts.find(({ id }) => id === said.id),
  );
  const what = now?.name || then?.name || t(`part.${now?.kind ?? then?.kind ?? 'other'}`);
  return t('diff.supply', { what, field });
}

function sayValue(field: string, value: string | number | null): string {
  if (value === null || value === '') return t('diff.unset');
  if (typeof value === 'number') {
    if (/Mm(\.|$)/.test(field)) return formatFine(value, readUnit());
    return field.endsWith('Share') ? `${formatNumber(value * 100, 2)} %` : formatNumber(value, 3);
  }
  if (field.startsWith('part.kind.')) return t(`part.${value}` as TextKey);
  // Of another thread the name says enough, unless it has none.
  if (field.startsWith('thread.sameAs.')) return value.slice('#rrggbb.'.length) || value.slice(0, 7);
  if (field === 'thread') return t(`gauge.thread.${value}` as TextKey);
  return CHOSEN.has(field) ? t(`piece.${field}.${value}` as TextKey) : value;
}

/** Fields of the piece of which a word is chosen. */
const CHOSEN: ReadonlySet<string> = new Set([
  'begin',
  'headKnot',
  'end',
  'endKnot',
  'ring',
  'singles',
  'lengthOf',
  'stopAt',
  'soldAs',
]);

function sayExtent({ repeats, lengthMm }: Extent): string {
  if (lengthMm !== undefined) return formatFine(lengthMm, readUnit());
  return t('diff.repeats', { count: repeats ?? 1 });
}

function colourName({ board }: KeyedDesign, id: string): string {
  const colour = board.palette.find((one) => one.id === id);
  return colour?.name || colour?.hex || id;
}

function hexOf({ board }: KeyedDesign, id: string): string {
  return board.palette.find((one) => one.id === id)?.hex ?? 'transparent';
}

function nameOfColourway({ before, after }: Sides, id: string): string {
  const one = [...after.board.colourways, ...before.board.colourways].find((each) => each.id === id);
  return one?.name || '–';
}
