/**
 * What went wrong, as a sentence a maker understands: by the kind of the error, what would have to stand there, and where. English messages
 * of engine and server are for logs and never shown. Sentences have no capital or full stop, to stand behind a colon.
 */
import type { BoardError } from '../../engine/index.ts';
import { loadProblems } from '../parts/index.ts';
import { currentLanguage, hasText, t } from '../text/index.ts';

/** What an error says in data. */
export interface Told {
  readonly kind: string;
  readonly path?: string;
  readonly demand?: BoardError['demand'];
  readonly value?: string;
  /** What the sentence of the kind is filled in with; names that end in `Bytes` are sizes. */
  readonly values?: Readonly<Record<string, number>>;
}

/** Kinds of which the demand says all. */
const SAID_BY_DEMAND = /^(out-of-range|wrong-type|limit)$/;

/** A field by its name; one that has none by its path. */
function nameOf(path: string): string {
  const field = path.replace(/^(file|patch)\./, '');
  const known = ['', 'piece.', 'gauge.'].map((table) => `field.${table}${field}`).find(hasText);
  return known === undefined ? field : t(known);
}

/** For example "Width for a string (mm) must be a number above 0, not -1". Needs the texts of the group `common`. */
export function sayDemand(demand: NonNullable<Told['demand']>, path: string, value: string): string {
  const { be, ...limits } = demand;
  const values: Record<string, string | number> = { field: nameOf(path), value };
  for (const [name, limit] of Object.entries(limits)) values[name] = inWords(limit);
  if (demand.be === 'unset-beside') values.other = nameOf(demand.other);
  return t(`demand.${be}`, values);
}

/** A number as the language writes it; whole ones stay numbers, since words are chosen by them. */
function inWords(limit: string | number): string | number {
  if (typeof limit === 'string' || Number.isInteger(limit)) return limit;
  return new Intl.NumberFormat(currentLanguage(), { maximumFractionDigits: 6 }).format(limit);
}

/** Until the texts of the group `common` are there, that it cannot be done. */
export function sayError({ kind, path = '', demand, value = '', values = {} }: Told): string {
  const key = `error.${kind}`;
  if (!hasText(key)) return t('error.any');
  const said = demand === undefined || kind === 'not-a-board' ? nameOf(path) : sayDemand(demand, path, value);
  if (demand !== undefined && SAID_BY_DEMAND.test(kind)) return said;
  const sentence = t(key, Object.fromEntries(Object.entries(values).map(sizeInWords)));
  return said === '' ? sentence : t('error.at', { sentence, path: said });
}

/** The same, once the texts for it have been fetched. */
export async function explain(error: Told): Promise<string> {
  await loadProblems();
  return sayError(error);
}

function sizeInWords([name, value]: [string, number]): [string, string | number] {
  if (!name.endsWith('Bytes')) return [name, value];
  const isLarge = value >= 1e6;
  const unit = { style: 'unit', unit: isLarge ? 'megabyte' : 'kilobyte', maximumFractionDigits: 0 } as const;
  return [name, new Intl.NumberFormat(currentLanguage(), unit).format(value / (isLarge ? 1e6 : 1e3))];
}

/** The same for what the server or the way to it said; the path counts where it is one into a file. */
export function sayServerError({
  kind,
  said = {},
}: {
  readonly kind: string;
  readonly said?: Told | object;
}): string {
  if (!hasText(`error.${kind}`)) return t('error.server');
  const { path = '', ...rest } = said as Partial<Told>;
  return sayError({ ...rest, kind, path: path.startsWith('file.') ? path : '' });
}
