/** Draws what is lit on the board. */
import { arcPath, layoutOf, pegWidth } from './draw-head.ts';
import { drawKnot } from './draw-knot.ts';
import { isInside, outlineCell } from './draw-overlay.ts';
import { PEG_HEIGHT } from './head-layout.ts';
import type { Lit } from './lit-set.ts';
import type { TiedCell } from './mirror.ts';
import type { Scene } from './painter.ts';
import { rowsBetween, type Size } from './viewport.ts';

/** Veils the board but for what is lit: the way of strings through the band, knots, folds with their pegs. */
export function drawLit(
  context: CanvasRenderingContext2D,
  scene: Scene,
  size: Size,
  lit: Lit,
  isPaths: boolean,
): void {
  const { strings = [], knots = [], folds = [] } = lit;
  if (strings.length + knots.length + folds.length === 0) return;
  const { theme, model, view } = scene;
  context.globalAlpha = 0.72;
  context.fillStyle = theme.page;
  context.fillRect(0, 0, size.width, size.height);
  context.globalAlpha = 1;
  const { rises } = layoutOf(scene);
  for (const { left, right } of folds) {
    const index = model.plan?.folds.findIndex((fold) => fold.left === left && fold.right === right) ?? -1;
    const fold = model.plan?.folds[index];
    if (fold === undefined) continue;
    context.lineWidth = 5;
    context.strokeStyle = theme.accent;
    context.stroke(arcPath(scene, fold, rises[index] as number));
    context.lineWidth = 2.5;
    context.strokeStyle = model.hexes[left] as string;
    context.stroke(arcPath(scene, fold, rises[index] as number));
    for (const place of [left, right]) {
      const half = pegWidth(view.unit) / 2;
      context.fillStyle = model.hexes[place] as string;
      context.fillRect(view.x + place * view.unit - half, view.y - PEG_HEIGHT + 6, 2 * half, PEG_HEIGHT - 14);
    }
  }
  for (const string of strings) drawWay(context, scene, size, string, isPaths);
  for (const cell of knots) {
    if (!isInside(scene, cell)) continue;
    const index = cell.row * (model.strings >> 1) + cell.k;
    const shown = model.weave.shownFlat[index] as number;
    const knot = model.board.pattern.knots[index] as TiedCell['knot'];
    if (shown >= 0) drawKnot(context, scene, { ...cell, knot }, model.hexes[shown] as string);
    outlineCell(context, scene, cell, theme.accent, 2.5);
  }
}

/** The way of a string, from its place on the bar to its end: in the chart with the knots that show it, else as a ribbon. */
function drawWay(
  context: CanvasRenderingContext2D,
  scene: Scene,
  size: Size,
  string: number,
  isPaths: boolean,
): void {
  const { model, view, theme } = scene;
  const hex = model.hexes[string];
  if (hex === undefined || model.rows === 0) return;
  const { from, to } = rowsBetween(view, 0, size.height, model.rows);
  const way = new Path2D();
  const shown: TiedCell[] = [];
  const stride = model.strings >> 1;
  const xAt = (place: number): number => view.x + place * view.unit;
  const yAt = (row: number): number => view.y + (row + 0.5) * view.row;
  const placeAt = (row: number): number =>
    model.weave.orderFlat.subarray(row * model.strings, (row + 1) * model.strings).indexOf(string);
  let place = placeAt(from);
  if (from === 0) {
    way.moveTo(xAt(place), view.y - PEG_HEIGHT);
    way.lineTo(xAt(place), yAt(0));
  } else way.moveTo(xAt(place), yAt(from));
  for (let row = from; row <= to; row++) {
    const next = placeAt(row + 1);
    const k = (place - ((model.start + row) & 1)) >> 1;
    const isShown = k >= 0 && model.weave.shownFlat[row * stride + k] === string;
    const knot = model.board.pattern.knots[row * stride + k] as TiedCell['knot'];
    if (isShown) shown.push({ row, k, knot });
    const [x, y, toX, toY] = [xAt(place), yAt(row), xAt(next), yAt(row + 1)];
    if (!isPaths) way.lineTo(toX, toY);
    else if (isShown && place === next) {
      const out = xAt(place + (knot === 3 ? 1.14 : -1.14));
      const middle = (y + toY) / 2;
      way.bezierCurveTo(x, y + view.row * 0.4, out, y + view.row * 0.12, out, middle);
      way.bezierCurveTo(out, y + view.row * 0.88, x, y + view.row * 0.6, x, toY);
    } else way.bezierCurveTo(x, y + view.row * 0.45, toX, y + view.row * 0.55, toX, toY);
    place = next;
  }
  if (to === model.rows - 1) way.lineTo(xAt(place), yAt(model.rows + 2));
  const wide = isPaths ? Math.max(4, view.unit * 0.56) : Math.max(4, view.unit * 0.3);
  context.lineJoin = 'round';
  context.lineCap = 'round';
  context.strokeStyle = theme.text;
  context.lineWidth = wide;
  context.stroke(way);
  context.strokeStyle = hex;
  context.lineWidth = wide - 2.5;
  context.stroke(way);
  if (!isPaths) for (const cell of shown) drawKnot(context, scene, cell, hex);
}
