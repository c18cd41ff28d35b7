/**
 * The document of a lesson: the plan, the teacher's step and drawings that were kept at a stop. Teachers write it, learners read it. Flat like
 * every document; names of learners, what they say and where they are stand nowhere in it.
 *
 * Roots: `stops` has `<id>:<field>` for each stop, `step` where the teacher is and who leads, `drawings` one value for each drawing.
 */
import type * as Y from 'yjs';
import { type LessonPlace, placeText, readPlace } from './place.ts';

/** Numbers of a drawing, two for each point: the string, and the row, in which it lies. */
export const MAX_STROKE_NUMBERS = 400;
/** Stops of a plan at most. */
const MAX_STOPS = 100;
const MAX_DRAWINGS = 200;
/** Characters of a stop's note. */
export const MAX_STOP_CHARACTERS = 500;
/** Characters of an id in the document. */
export const MAX_LESSON_ID = 24;
const MAX_MINUTES = 600;
const MAX_SPOT = 100_000;
const ID = /^[\w-]{1,24}$/;

/** Where the teacher has everybody stop, or look. */
export interface Stop {
  readonly id: string;
  readonly place: LessonPlace;
  readonly note: string;
  /** Whether the teacher waits for all here. */
  readonly waits: boolean;
  /** Minutes thought of; null = none. */
  readonly minutes: number | null;
}

/** A line that was drawn over the work: strings and rows in turn, in places of the board, whatever the view is. */
export type Stroke = readonly number[];

/** A drawing that stays with a stop of the plan. */
interface KeptDrawing {
  readonly id: string;
  /** The stop that it is kept at. */
  readonly stop: string;
  readonly stroke: Stroke;
}

/** Who leads: a page, not a person, so that it gives nobody's id away. */
interface Lead {
  readonly page: string;
  readonly name: string;
}

/** All that the document of a lesson says. */
export interface Lesson {
  /** In the order of the plan. */
  readonly stops: readonly Stop[];
  /** Where the teacher is; null before she has begun. */
  readonly place: LessonPlace | null;
  readonly lead: Lead | null;
  readonly drawings: readonly KeptDrawing[];
}

const FIELDS = ['place', 'order', 'note', 'waits', 'minutes'] as const;
type Field = (typeof FIELDS)[number];

function rootsOfLesson(doc: Y.Doc): Readonly<Record<'stops' | 'step' | 'drawings', Y.Map<unknown>>> {
  return { stops: doc.getMap('stops'), step: doc.getMap('step'), drawings: doc.getMap('drawings') };
}

/** A stroke as it may be sent and kept: pairs of finite numbers within reach, two decimals each; null when it is none. Rule D383. */
export function readStroke(value: unknown): Stroke | null {
  if (
    !Array.isArray(value) ||
    value.length < 4 ||
    value.length > MAX_STROKE_NUMBERS ||
    value.length % 2 !== 0
  )
    return null;
  const isSpot = (one: unknown): one is number => typeof one === 'number' && Math.abs(one) <= MAX_SPOT;
  return value.every(isSpot) ? value.map((one) => Math.round(one * 100) / 100) : null;
}

/** What the document says, whatever a peer wrote. O(entries). Rules D381, D382. */
export function readLesson(doc: Y.Doc): Lesson {
  const { stops, step, drawings } = rootsOfLesson(doc);
  const found: (Stop & { readonly order: number })[] = [];
  for (const key of stops.keys()) {
    if (!key.endsWith(':place')) continue;
    const id = key.slice(0, -':place'.length);
    const place = readPlace(stops.get(key));
    if (!ID.test(id) || place === null) continue;
    const of = (field: Field): unknown => stops.get(`${id}:${field}`);
    const [order, note, minutes] = [of('order'), of('note'), of('minutes')];
    found.push({
      id,
      place,
      order: typeof order === 'number' ? order : 0,
      note: typeof note === 'string' ? note.slice(0, MAX_STOP_CHARACTERS) : '',
      waits: of('waits') === true,
      minutes: isMinutes(minutes) ? minutes : null,
    });
  }
  const planned = found.sort((a, b) => a.order - b.order || (a.id < b.id ? -1 : 1)).slice(0, MAX_STOPS);
  const isPlanned = new Set(planned.map(({ id }) => id));
  const kept: KeptDrawing[] = [];
  for (const [id, value] of drawings) {
    const { stop, stroke } = (value ?? {}) as { stop?: unknown; stroke?: unknown };
    const read = readStroke(stroke);
    if (ID.test(id) && typeof stop === 'string' && isPlanned.has(stop) && read !== null)
      kept.push({ id, stop, stroke: read });
  }
  const lead = step.get('lead') as { page?: unknown; name?: unknown } | null | undefined;
  return {
    stops: planned.map(({ order: _order, ...stop }) => stop),
    place: readPlace(step.get('place')),
    lead:
      typeof lead?.page === 'string' && typeof lead.name === 'string'
        ? { page: lead.page, name: lead.name }
        : null,
    drawings: kept.sort((a, b) => (a.id < b.id ? -1 : 1)).slice(0, MAX_DRAWINGS),
  };
}

function isMinutes(value: unknown): value is number {
  return typeof value === 'number' && value > 0 && value <= MAX_MINUTES;
}

/** Lays the plan anew: what stands there goes, drawings too. Rule D384. */
export function writePlan(doc: Y.Doc, plan: readonly Stop[]): void {
  const roots = rootsOfLesson(doc);
  doc.transact(() => {
    for (const key of [...roots.stops.keys()]) roots.stops.delete(key);
    for (const key of [...roots.drawings.keys()]) roots.drawings.delete(key);
    for (const [order, stop] of plan.slice(0, MAX_STOPS).entries()) putStop(roots.stops, stop, order);
  });
}

/** Writes a stop in the place of the one of its id, or behind all others. */
export function writeStop(doc: Y.Doc, stop: Stop): void {
  const { stops } = rootsOfLesson(doc);
  const order = stops.get(`${stop.id}:order`);
  const orders = [...stops].map(([key, value]) =>
    key.endsWith(':order') && typeof value === 'number' ? value : -1,
  );
  doc.transact(() => putStop(stops, stop, typeof order === 'number' ? order : Math.max(-1, ...orders) + 1));
}

function putStop(stops: Y.Map<unknown>, { id, place, note, waits, minutes }: Stop, order: number): void {
  const values: Readonly<Record<Field, unknown>> = {
    place: placeText(place),
    order,
    note: note.slice(0, MAX_STOP_CHARACTERS),
    waits,
    minutes: isMinutes(minutes) ? minutes : null,
  };
  for (const field of FIELDS)
    if (stops.get(`${id}:${field}`) !== values[field]) stops.set(`${id}:${field}`, values[field]);
}

/** Takes a stop out of the plan, with the drawings kept at it. */
export function removeStop(doc: Y.Doc, id: string): void {
  const { stops, drawings } = rootsOfLesson(doc);
  doc.transact(() => {
    for (const field of FIELDS) stops.delete(`${id}:${field}`);
    for (const [key, value] of [...drawings])
      if ((value as { stop?: unknown } | null)?.stop === id) drawings.delete(key);
  });
}

/** The teacher is there now. */
export function writeTeachersPlace(doc: Y.Doc, place: LessonPlace): void {
  const { step } = rootsOfLesson(doc);
  const text = placeText(place);
  if (step.get('place') !== text) step.set('place', text);
}

/** This page leads from now on. */
export function takeLead(doc: Y.Doc, lead: Lead): void {
  rootsOfLesson(doc).step.set('lead', { page: lead.page, name: lead.name });
}

/** Keeps a drawing at a stop. */
export function keepDrawing(doc: Y.Doc, { id, stop, stroke }: KeptDrawing): void {
  rootsOfLesson(doc).drawings.set(id, { stop, stroke: [...stroke] });
}

/** Takes all drawings of a stop away. */
export function dropDrawings(doc: Y.Doc, stop: string): void {
  const { drawings } = rootsOfLesson(doc);
  doc.transact(() => {
    for (const [key, value] of [...drawings])
      if ((value as { stop?: unknown } | null)?.stop === stop) drawings.delete(key);
  });
}
