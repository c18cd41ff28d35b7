/** The bench report: rows grouped by name, growth exponents, ratios against their bounds. */
import type { BenchRow } from './bench-row.ts';

export interface RunFacts {
  readonly date: string;
  readonly commit: string;
  readonly cpu: string;
  readonly cores: number;
  readonly node: string;
}

/** Fewest sizes from which a growth exponent is printed. */
const SERIES_SIZES = 2;

/** Whether the row keeps its bound; true where it has none. */
export function isHeld({ ratioTo }: BenchRow): boolean {
  if (ratioTo?.bound === undefined) return true;
  return ratioTo.atLeast ? ratioTo.ratio >= ratioTo.bound : ratioTo.ratio <= ratioTo.bound;
}

/**
 * Exponent `e` of `value ~ size^e` over a series: slope of the least-squares line through the logarithms.
 * Null when there are fewer than two sizes, or a size or value that is not above 0.
 */
export function growthExponent(rows: readonly Pick<BenchRow, 'size' | 'value'>[]): number | null {
  if (new Set(rows.map((row) => row.size)).size < SERIES_SIZES) return null;
  if (rows.some((row) => !(row.size > 0 && row.value > 0))) return null;
  const points = rows.map((row) => [Math.log(row.size), Math.log(row.value)] as const);
  const mean = (axis: 0 | 1): number => points.reduce((sum, point) => sum + point[axis], 0) / points.length;
  const [x, y] = [mean(0), mean(1)];
  const covariance = points.reduce((sum, point) => sum + (point[0] - x) * (point[1] - y), 0);
  const variance = points.reduce((sum, point) => sum + (point[0] - x) ** 2, 0);
  return covariance / variance;
}

/** A figure with three digits that count. */
export function formatFigure(figure: number): string {
  const whole = Math.abs(figure) >= 100;
  return whole ? Math.round(figure).toLocaleString('en') : String(Number(figure.toPrecision(3)));
}

function ratioText(row: BenchRow): string {
  const { ratioTo } = row;
  if (!ratioTo) return '';
  const ratio = `${Number(ratioTo.ratio.toPrecision(4))} x ${ratioTo.name}`;
  if (ratioTo.bound === undefined) return ratio;
  const bound = `${ratioTo.atLeast ? 'at least' : 'at most'} ${ratioTo.bound}`;
  return `${ratio} (${bound}: ${isHeld(row) ? 'held' : '**not held**'})`;
}

/** The report as Markdown. */
export function formatReport(rows: readonly BenchRow[], facts: RunFacts): string {
  const names = [...new Set(rows.map((row) => row.name))];
  const growth = names.flatMap((name) => {
    const exponent = growthExponent(rows.filter((row) => row.name === name && row.unit === 'ms'));
    return exponent === null ? [] : [`| ${name} | size^${exponent.toFixed(2)} |`];
  });
  const lines = rows.map((row) => {
    const cells = [
      row.name,
      row.size.toLocaleString('en'),
      formatFigure(row.value),
      row.unit,
      formatFigure(row.min),
      formatFigure(row.median),
      ratioText(row),
      row.note ?? '',
    ];
    return `| ${cells.join(' | ')} |`;
  });
  return [
    '# Measured',
    '',
    'Written by `npm run bench`. Times depend on the machine; compare ratios, which are taken within one run.',
    '',
    `${facts.date}, commit ${facts.commit}, ${facts.cpu} (${facts.cores} cores), Node ${facts.node}`,
    '',
    '| what | size | value | unit | min | median | ratio | note |',
    '| --- | ---: | ---: | --- | ---: | ---: | --- | --- |',
    ...lines,
    '',
    '## Growth',
    '',
    'Exponent of the time against the size, least squares through the logarithms.',
    '',
    '| what | time grows as |',
    '| --- | --- |',
    ...growth,
    '',
  ].join('\n');
}
