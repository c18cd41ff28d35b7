/** The finished look: the knotted band in true proportions on its ring, or with what it begins with, from the front or from the back. */
import { isHung, rowStride } from '../../engine/index.ts';
import { cordLine, strokeCord } from './cord.ts';
import type { CordSprites } from './cord-sprites.ts';
import { drawHead, drawTails } from './draw-ends.ts';
import { backBars, type FinishedModel } from './finished-model.ts';
import type { Theme } from './theme.ts';

export type BandSide = 'front' | 'back';

/** Where the band lies on its sheet, in CSS px. */
export interface FinishedLayout {
  readonly unit: number;
  readonly row: number;
  /** x of place 0 and y of the first row. */
  readonly x: number;
  readonly y: number;
  readonly ringWidth: number;
  readonly ringHeight: number;
  readonly width: number;
  readonly height: number;
}

const MARGIN = 28;
/** Room for the eye above the ring, at least, in px. */
const LEAST_EYE = 16;
/** The same in cord diameters. */
const EYE_PER_CORD = 2.6;
const MOST_UNIT = 15;
const LEAST_UNIT = 3.5;
/** A band too long for its box scrolls rather than getting finer than this. */
const COMFORTABLE_UNIT = 10;

/** What the piece measures in cord diameters: across its ring or band, and from the top to the ends. */
function sizeOf(model: FinishedModel): { readonly across: number; readonly high: number } {
  const { strings, rows, proportions } = model;
  const across = Math.max(proportions.holderPerCord ?? 0, strings + 2);
  const ring = across * (model.board.piece.ring === 'round' ? 1 : 0.62);
  const above = isHung(model.board.piece) ? ring : proportions.headPerCord;
  return { across, high: above + (rows + 1) * proportions.rowPerCord + proportions.tailPerCord + 2 };
}

/**
 * The largest layout that fits the width, and the height where knots stay legible; `zoom` times as large.
 * A sheet larger than its box scrolls.
 */
export function layoutFinished(
  model: FinishedModel,
  box: { readonly width: number; readonly height: number },
  zoom: number,
): FinishedLayout {
  const { across, high } = sizeOf(model);
  const byWidth = (box.width - 2 * MARGIN) / (across + 1.5);
  const byHeight = (box.height - 2 * MARGIN) / high;
  const fitting = Math.max(LEAST_UNIT, Math.min(MOST_UNIT, byWidth, Math.max(byHeight, COMFORTABLE_UNIT)));
  const unit = fitting * zoom;
  return layoutAt(model, Math.max(box.width, (across + 1.5) * unit + 2 * MARGIN), unit, MARGIN, 190 * zoom);
}

/** Room above and below a small picture. */
const SMALL_MARGIN = 4;
/** A band that would get finer than this is cut off below instead. */
const LEAST_SMALL_UNIT = 2.4;

/** The whole piece in a box, as large as fits; higher than the box only where knots would vanish. */
export function layoutWhole(model: FinishedModel, width: number, height: number): FinishedLayout {
  const { across, high } = sizeOf(model);
  const byWidth = (width - 2 * SMALL_MARGIN) / (across + 1.5);
  const byHeight = (height - 2 * SMALL_MARGIN - LEAST_EYE) / (high + EYE_PER_CORD);
  const unit = Math.max(Math.min(byWidth, LEAST_SMALL_UNIT), Math.min(MOST_UNIT, byWidth, byHeight));
  return layoutAt(model, width, unit, SMALL_MARGIN, 190);
}

function layoutAt(
  model: FinishedModel,
  width: number,
  unit: number,
  margin: number,
  mostRingHeight: number,
): FinishedLayout {
  const { strings, rows, proportions } = model;
  const row = unit * proportions.rowPerCord;
  const ringWidth = sizeOf(model).across * unit;
  const isRound = model.board.piece.ring === 'round';
  const hung = isHung(model.board.piece);
  const ringHeight = !hung ? 0 : isRound ? ringWidth : Math.min(mostRingHeight, ringWidth * 0.62);
  // The eye of the ring stands above it.
  const above = hung
    ? Math.max(LEAST_EYE, unit * EYE_PER_CORD) + ringHeight + unit * 1.4
    : Math.max(LEAST_EYE, unit * proportions.headPerCord);
  const y = margin + above;
  return {
    unit,
    row,
    x: (width - (strings - 1) * unit) / 2,
    y,
    ringWidth,
    ringHeight,
    width,
    height: y + (rows + 1) * row + proportions.tailPerCord * unit + margin,
  };
}

/** The zoom at which all of the sheet is in its box; 1 at most. */
export function wholeZoom(
  model: FinishedModel,
  box: { readonly width: number; readonly height: number },
): number {
  const around = 2 * MARGIN + LEAST_EYE;
  const { height } = layoutFinished(model, box, 1);
  return Math.min(1, Math.max(0, box.height - around) / Math.max(1, height - around));
}

/** Draws what can be seen between two heights of the sheet; the context counts in CSS px of the sheet. */
export function drawFinished(
  context: CanvasRenderingContext2D,
  model: FinishedModel,
  layout: FinishedLayout,
  side: BandSide,
  theme: Theme,
  sprites: CordSprites,
  from: number,
  to: number,
): void {
  const placeX = (place: number): number =>
    layout.x + (side === 'back' ? model.strings - 1 - place : place) * layout.unit;
  const isTop = from < layout.y + layout.row;
  const hung = isHung(model.board.piece);
  if (isTop && hung) drawRing(context, model, layout, theme);
  if (isTop && !hung) drawHead(context, model, layout, placeX);
  if (to >= layout.y && from <= layout.height) drawTails(context, model, layout, placeX);
  drawHanging(context, model, layout, placeX, from, to);
  drawKnots(context, model, layout, side, sprites, from, to);
  if (isTop && hung) drawHeads(context, model, layout, side, placeX);
}

function rowsSeen(model: FinishedModel, layout: FinishedLayout, from: number, to: number): [number, number] {
  return [
    Math.max(0, Math.floor((from - layout.y) / layout.row) - 2),
    Math.min(model.rows - 1, Math.ceil((to - layout.y) / layout.row) + 1),
  ];
}

function drawKnots(
  context: CanvasRenderingContext2D,
  model: FinishedModel,
  layout: FinishedLayout,
  side: BandSide,
  sprites: CordSprites,
  from: number,
  to: number,
): void {
  const { strings, start, knots, shown, hexes } = model;
  const stride = rowStride(strings);
  const { width, height } = sprites;
  const [first, last] = rowsSeen(model, layout, from, to);
  for (let row = first; row <= last; row++) {
    const parity = (start + row) & 1;
    for (let k = 0; k < (strings - parity) >> 1; k++) {
      const knot = knots[row * stride + k] as number;
      if (knot === 0) continue;
      const place = 2 * k + parity;
      // From behind, right is left; the turns of a hitch lean the same way on either side, as those of a spring do.
      const across = side === 'back' ? strings - 2 - place : place;
      const x = layout.x + (across + 0.5) * layout.unit;
      const y = layout.y + (row + 1) * layout.row;
      const string = shown[row * stride + k] as number;
      const sprite = sprites.of(hexes[string] as string, knot, model.textures[string]);
      context.drawImage(sprite, x - width / 2, y - height / 2, width, height);
    }
  }
}

/** Strings where no knot holds them, above the last knot on each. */
function drawHanging(
  context: CanvasRenderingContext2D,
  model: FinishedModel,
  layout: FinishedLayout,
  placeX: (place: number) => number,
  from: number,
  to: number,
): void {
  const { strings, start, knots, order, freeFrom, hexes } = model;
  const stride = rowStride(strings);
  const [first, last] = rowsSeen(model, layout, from, to);
  for (let row = first; row <= last; row++) {
    const parity = (start + row) & 1;
    for (let place = 0; place < strings; place++) {
      const k = (place - parity) >> 1;
      const isPaired = place >= parity && k < (strings - parity) >> 1;
      if ((isPaired && knots[row * stride + k] !== 0) || row >= (freeFrom[place] as number)) continue;
      const hex = hexes[order[row * strings + place] as number] as string;
      const x = placeX(place);
      const y = layout.y + row * layout.row;
      cordLine(context, [x, y + 0.3 * layout.row], [x, y + 1.7 * layout.row], hex, layout.unit * 0.92);
    }
  }
}

/** Ring or D-ring: metal, whatever the theme. */
function drawRing(
  context: CanvasRenderingContext2D,
  model: FinishedModel,
  layout: FinishedLayout,
  theme: Theme,
): void {
  const { ringWidth, ringHeight, unit } = layout;
  const middle = layout.x + ((model.strings - 1) * unit) / 2;
  const bar = layout.y - unit * 0.9;
  const thick = Math.max(5, Math.min(26, unit * 0.9));
  const path = new Path2D();
  if (model.board.piece.ring === 'round') {
    path.ellipse(middle, bar - ringHeight / 2 + thick / 2, ringWidth / 2, ringHeight / 2, 0, 0, 2 * Math.PI);
  } else {
    const half = ringWidth / 2;
    const radius = Math.min(half, ringHeight);
    path.moveTo(middle - half, bar);
    path.lineTo(middle + half, bar);
    path.bezierCurveTo(
      middle + half,
      bar - ringHeight * 0.75,
      middle + radius * 0.5,
      bar - ringHeight,
      middle,
      bar - ringHeight,
    );
    path.bezierCurveTo(
      middle - radius * 0.5,
      bar - ringHeight,
      middle - half,
      bar - ringHeight * 0.75,
      middle - half,
      bar,
    );
    path.closePath();
  }
  const steel: readonly (readonly [number, string])[] = [
    [1, '#5f5c57'],
    [0.8, '#8f8b84'],
    [0.5, '#c3beb5'],
    [0.2, '#f0ece4'],
  ];
  const eye = new Path2D();
  eye.ellipse(middle, bar - ringHeight - thick * 1.3, thick * 1.1, thick * 1.5, 0, 0, 2 * Math.PI);
  context.lineJoin = 'round';
  for (const line of [eye, path])
    for (const [share, colour] of steel) {
      context.strokeStyle = colour;
      context.lineWidth = thick * share;
      context.stroke(line);
    }
  context.strokeStyle = theme.line;
}

/** The strings' turns round the bar; behind, the bars of folds that cross. */
function drawHeads(
  context: CanvasRenderingContext2D,
  model: FinishedModel,
  layout: FinishedLayout,
  side: BandSide,
  placeX: (place: number) => number,
): void {
  const { unit, row } = layout;
  const bar = layout.y - unit * 0.9;
  for (let place = 0; place < model.strings; place++) {
    const hex = model.hexes[place] as string;
    const x = placeX(place);
    cordLine(context, [x, bar - unit * 0.55], [x, layout.y + row * 0.45], hex, unit * 0.95);
  }
  for (const { left, right, spread } of model.plan?.folds ?? []) {
    // The middle piece of a fold whose ends hang side by side crosses its own two turns.
    if (spread || side === 'back') continue;
    const y = bar + unit * 0.62;
    cordLine(context, [placeX(left), y], [placeX(right), y], model.hexes[left] as string, unit * 0.8);
  }
  if (side === 'back') drawBars(context, model, layout, placeX);
}

/** Bars across the back: each comes out of its own two heads and lies over those between, with the shadow it throws. */
function drawBars(
  context: CanvasRenderingContext2D,
  model: FinishedModel,
  { unit, y }: FinishedLayout,
  placeX: (place: number) => number,
): void {
  for (const { left, right, level } of backBars(model.plan)) {
    const top = y - unit * 0.75;
    const height = top + unit * (0.55 + level * 0.95);
    const [from, to] = [placeX(left), placeX(right)].sort((a, b) => a - b) as [number, number];
    const round = Math.min(unit * 0.8, (to - from) / 3);
    const path = new Path2D();
    path.moveTo(from, top);
    path.bezierCurveTo(from, height - unit * 0.1, from + round * 0.3, height, from + round, height);
    path.lineTo(to - round, height);
    path.bezierCurveTo(to - round * 0.3, height, to, height - unit * 0.1, to, top);
    context.save();
    context.translate(0, unit * 0.3);
    context.globalAlpha = 0.32;
    context.strokeStyle = '#000000';
    context.lineWidth = unit * 0.95;
    context.lineCap = 'butt';
    context.stroke(path);
    context.restore();
    strokeCord(context, path, model.hexes[left] as string, unit * 0.92);
  }
}
