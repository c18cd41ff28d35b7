/** What the strings of the finished look come to below the band, and above one that hangs from no ring. */
import { type EndKnot, endKnotOf, headKnotOf } from '../../engine/index.ts';
import { cordLine, shade, strokeCord } from './cord.ts';
import type { FinishedModel } from './finished-model.ts';
import { textureAlong } from './knot-texture.ts';

/** Where the band lies on its sheet, in px. */
interface Lies {
  readonly unit: number;
  readonly row: number;
  readonly y: number;
}

/** Strings that end together below a line, in px of a sheet on which down is where they end. */
interface Bunch {
  readonly kind: EndKnot;
  readonly unit: number;
  readonly strings: readonly {
    readonly hex: string;
    readonly texture: number;
    readonly x: number;
    /** Where it leaves the band. */
    readonly from: number;
  }[];
  /** Where the band ends, and where they do. */
  readonly edge: number;
  readonly end: number;
  /** Height on the real sheet: the same, or upside down. */
  readonly at: (y: number) => number;
}

/** The ends: gathered in a knot, a tassel or a braid, or hanging free. */
export function drawTails(
  context: CanvasRenderingContext2D,
  model: FinishedModel,
  layout: Lies,
  placeX: (place: number) => number,
): void {
  const { unit, row } = layout;
  const edge = layout.y + (model.rows + 1) * row;
  const end = edge + model.proportions.tailPerCord * unit;
  for (const [left, right] of model.groups) {
    const strings = Array.from({ length: right - left + 1 }, (_, i) => {
      const place = left + i;
      const string = model.order[model.rows * model.strings + place] as number;
      const from = layout.y + ((model.freeFrom[place] as number) + 0.6) * row;
      return { ...lookOf(model, string), x: placeX(place), from };
    });
    drawBunch(context, { kind: endKnotOf(model.board.piece), unit, strings, edge, end, at: (y) => y });
  }
}

/** What stands above the first row without a ring: the same upside down, and the loop that it may be. Rule B281. */
export function drawHead(
  context: CanvasRenderingContext2D,
  model: FinishedModel,
  { unit, row, y }: Lies,
  placeX: (place: number) => number,
): void {
  const { headPerCord, loopPerCord } = model.proportions;
  const strings = Array.from({ length: model.strings }, (_, place) => ({
    ...lookOf(model, place),
    x: placeX(place),
    from: y - 0.4 * row,
  }));
  const kind = headKnotOf(model.board.piece);
  const bunch: Bunch = {
    kind,
    unit,
    strings,
    edge: y,
    end: y + (headPerCord - loopPerCord) * unit,
    at: (down) => 2 * y - down,
  };
  if (loopPerCord > 0) {
    // What closes a loop lets nothing hang out, and without it the strings come together in the loop itself.
    const closedAt =
      kind === 'none'
        ? y + gathered(loopPerCord * unit, strings.length, unit)
        : y + gathered(bunch.end - y, strings.length, unit);
    const from = kind === 'braid' ? bunch.end - 2 * unit : closedAt;
    drawLoop(context, bunch, from, y + headPerCord * unit);
    drawBunch(context, bunch, closedAt);
  } else drawBunch(context, bunch);
}

function lookOf(model: FinishedModel, string: number): { readonly hex: string; readonly texture: number } {
  return { hex: model.hexes[string] as string, texture: model.textures[string] as number };
}

/** How far below its edge a band is gathered. */
function gathered(length: number, count: number, unit: number): number {
  return Math.min(length * 0.45, count * unit * 0.42);
}

/** @param closedAt where all strings end, as those of a loop do; else where they are gathered they hang on */
function drawBunch(context: CanvasRenderingContext2D, bunch: Bunch, closedAt?: number): void {
  const { kind, unit, strings, edge, end, at } = bunch;
  const count = strings.length;
  const [first, last] = [strings[0]!, strings[count - 1]!];
  const middle = (first.x + last.x) / 2;
  const gatherY = closedAt ?? edge + gathered(end - edge, count, unit);
  strings.forEach(({ hex, texture, x, from }, place) => {
    const path = new Path2D();
    path.moveTo(x, at(from));
    if (kind === 'none' && closedAt === undefined)
      path.lineTo(x + Math.sin(place * 2.3) * unit * 0.3, at(end));
    else {
      const lean = (place - (count - 1) / 2) / count;
      const tight = middle + (first.x < last.x ? lean : -lean) * unit * 2.4;
      path.bezierCurveTo(x, at((from + gatherY) / 2), tight, at(gatherY - unit * 2.5), tight, at(gatherY));
      if (kind !== 'braid' && closedAt === undefined) {
        const spread = middle + (tight - middle) * (kind === 'tassel' ? 2.3 : 3);
        const tip = end - Math.abs(Math.sin(place * 1.9)) * unit * 0.8;
        path.bezierCurveTo(tight, at(gatherY + unit * 3), spread, at(gatherY + unit * 4), spread, at(tip));
      }
    }
    strokeCord(context, path, hex, unit * 0.82);
    textureAlong(context, path, texture, hex, unit * 0.82);
  });
  const hexes = [...new Set(strings.map(({ hex }) => hex))];
  if (kind === 'overhand') drawOverhand(context, hexes, unit, middle, at(gatherY));
  if (kind === 'tassel') drawCollar(context, first.hex, unit, middle, at(gatherY));
  if (kind === 'braid') drawBraid(context, hexes, bunch, middle, gatherY);
}

/** The loop: some of its strands, one inside the other. */
function drawLoop(
  context: CanvasRenderingContext2D,
  { strings, unit, at }: Bunch,
  from: number,
  to: number,
): void {
  const middle = (strings[0]!.x + strings[strings.length - 1]!.x) / 2;
  const shown = Math.min(4, strings.length);
  for (let i = shown - 1; i >= 0; i--) {
    const { hex } = strings[Math.floor((i * strings.length) / shown)]!;
    const high = Math.max(unit, to - from - i * unit * 0.8);
    const half = Math.max(unit * 0.8, high * 0.34 + (shown - 1 - i) * unit * 0.35);
    const [low, side, top] = [at(from), at(from + high * 0.55), at(from + high)];
    const path = new Path2D();
    path.moveTo(middle - unit * 0.5, low);
    path.bezierCurveTo(middle - 2 * half, side, middle - half, top, middle, top);
    path.bezierCurveTo(middle + half, top, middle + 2 * half, side, middle + unit * 0.5, low);
    strokeCord(context, path, hex, unit * 0.9);
  }
}

function drawOverhand(
  context: CanvasRenderingContext2D,
  hexes: readonly string[],
  unit: number,
  x: number,
  y: number,
): void {
  const half = unit * 1.9;
  context.fillStyle = shade(hexes[0] as string, -0.5);
  context.beginPath();
  context.ellipse(x, y, half * 1.1, unit * 1.9, 0, 0, 2 * Math.PI);
  context.fill();
  for (let i = 0; i < 4; i++) {
    const at = (i - 1.5) * unit * 0.78;
    const path = new Path2D();
    path.moveTo(x - half * 0.86, y + at + unit * 0.55);
    path.quadraticCurveTo(x, y + at - unit * 0.1, x + half * 0.86, y + at - unit * 0.55);
    strokeCord(context, path, hexes[i % hexes.length] as string, unit * 0.95);
  }
}

function drawCollar(
  context: CanvasRenderingContext2D,
  hex: string,
  unit: number,
  x: number,
  y: number,
): void {
  for (let i = -2; i <= 2; i++)
    cordLine(
      context,
      [x - unit * 1.25, y + i * unit * 0.8],
      [x + unit * 1.25, y + i * unit * 0.8],
      hex,
      unit * 0.9,
    );
}

function drawBraid(
  context: CanvasRenderingContext2D,
  hexes: readonly string[],
  { unit, end, at }: Bunch,
  x: number,
  top: number,
): void {
  // Three strands, each laid over the middle in turn; with fewer colours two strands share one.
  const strands = [0, 1, 2].map((i) => hexes[i % hexes.length] as string);
  const step = unit * 1.5;
  let turn = 0;
  for (let y = top - unit; y < end - 2 * unit; y += step, turn++) {
    const toRight = turn % 2 === 0;
    const path = new Path2D();
    path.moveTo(x + (toRight ? -1 : 1) * unit * 1.1, at(y));
    path.quadraticCurveTo(x, at(y + step * 0.5), x + (toRight ? 0.45 : -0.45) * unit, at(y + step * 1.2));
    strokeCord(context, path, strands[turn % 3] as string, unit * 1.8);
  }
  const tie = at(end - unit * 1.6);
  cordLine(context, [x - unit, tie], [x + unit, tie], hexes[0] as string, unit);
}
