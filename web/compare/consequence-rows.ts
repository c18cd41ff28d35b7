/** What both sides of a comparison come to, as rows of a table. */
import {
  type Board,
  type CutList,
  type FriezeSymmetries,
  isHung,
  type ShoppingList,
} from '../../engine/index.ts';
import { t } from '../text/index.ts';
import { formatCut, formatNumber, formatPrice, readUnit } from '../units/index.ts';
import type { Consequences } from '../worker/index.ts';

/** One row: what it is about, and what it is on each side. */
export interface ConsequenceRow {
  readonly label: string;
  readonly hex: string | null;
  readonly values: readonly [string, string];
}

type Side = readonly [board: Board, found: Consequences];

/** The rows, thread colour by colour. */
export function consequenceRows(before: Side, after: Side): readonly ConsequenceRow[] {
  const unit = readUnit();
  const row = (label: string, of: (side: Side) => string): ConsequenceRow => ({
    label,
    hex: null,
    values: [of(before), of(after)],
  });
  const cut = (of: (list: CutList) => string) => (side: Side) => {
    const { cut: list } = side[1];
    return list === null ? t('after.none') : of(list);
  };
  const made = (of: (one: ShoppingList) => string) => (side: Side) => {
    const { one } = side[1];
    return one === null ? t('after.none') : of(one);
  };
  const sides = [before, after];
  const hung = sides.filter(([{ piece }]) => isHung(piece)).length;
  return [
    ...(hung === sides.length
      ? []
      : [row(t('panels.beginning'), ([{ piece }]) => t(`piece.begin.${piece.begin ?? 'ring'}`))]),
    ...(hung === 0 ? [] : [row(t('after.mount'), mountingOf)]),
    row(t('after.strings'), ([{ pattern }]) => formatNumber(pattern.colours.length, 0)),
    row(t('after.rows'), ([{ pattern }]) => formatNumber(pattern.rows, 0)),
    row(
      t('after.length'),
      cut(({ size }) => formatCut(size.bandMm, unit)),
    ),
    row(
      t('after.longest'),
      cut(({ folds, singles }) =>
        formatCut(Math.max(0, ...folds.map((one) => one.cutMm), ...singles.map((one) => one.cutMm)), unit),
      ),
    ),
    ...threadRows(before, after),
    row(
      t('after.knots'),
      cut(({ knots }) => formatNumber(knots, 0)),
    ),
    row(
      t('after.minutes'),
      made(({ minutes }) => t('after.minutesValue', { minutes: formatNumber(Math.ceil(minutes.all), 0) })),
    ),
    row(
      t('after.cost'),
      made(({ price }) => (price.kind === 'priced' ? formatPrice(price.price) : t('after.noCost'))),
    ),
    row(t('after.mirror'), ([, { symmetry }]) => {
      const held = (['order', 'knots', 'picture'] as const).filter((of) => symmetry.mirror[of]);
      if (held.length === 3) return t('after.mirror.all');
      return held.length === 0
        ? t('after.mirror.none')
        : held.map((of) => t(`after.mirror.${of}`)).join(', ');
    }),
    row(t('after.band'), ([, { symmetry }]) => sayBand(symmetry.band)),
  ];
}

/** What the whole band is symmetric by. */
function sayBand(band: FriezeSymmetries): string {
  const held = (['leftRight', 'glide', 'upsideDown', 'halfTurn'] as const).filter((kind) => band[kind]);
  return held.length === 0 ? t('after.mirror.none') : held.map((kind) => t(`after.band.${kind}`)).join(', ');
}

/** How it mounts; where it hangs from no ring, nothing does. */
function mountingOf([{ piece }, { plan }]: Side): string {
  if (!isHung(piece)) return t('after.none');
  const crossings = plan.neat ? t('after.neat') : t('after.crossings', { count: plan.crossings.length });
  const singles = plan.singles.length;
  return singles === 0 ? crossings : `${crossings}, ${t('after.singles', { count: singles })}`;
}

/** Metres of every colour that either side uses. */
function threadRows(before: Side, after: Side): readonly ConsequenceRow[] {
  const unit = readUnit();
  const totals = [before, after].map(
    ([, { cut }]) => new Map(cut === null ? [] : cut.colours.map(({ colour, totalMm }) => [colour, totalMm])),
  );
  const ids = [...new Set(totals.flatMap((table) => [...table.keys()]))];
  return ids.map((id) => {
    const colour =
      after[0].palette.find((one) => one.id === id) ?? before[0].palette.find((one) => one.id === id);
    const values = totals.map((table) => {
      const mm = table.get(id);
      return mm === undefined ? t('after.none') : formatCut(mm, unit);
    });
    return {
      label: t('after.thread', { name: colour?.name || colour?.hex || id }),
      hex: colour?.hex ?? null,
      values: values as [string, string],
    };
  });
}
