/** Draws what stands above the band: a peg for each place, and on a ring an arc for each folded string, numbered in mounting order. */
import { type Fold, inkOn, isHung } from '../../engine/index.ts';
import { t } from '../text/index.ts';
import { type HeadLayout, headLayout, PEG_HEIGHT, UNKNOWN_LAYOUT } from './head-layout.ts';
import { drawTexture } from './knot-texture.ts';
import type { Scene } from './painter.ts';

/** Top and bottom of a peg, in px above the first row. */
const PEG_TOP = 38;
const PEG_BOTTOM = 10;
/** Least px from place to place at which a peg has room for its number. */
const NUMBERED_UNIT = 20;

/** Of arcs as they stand, and folded to a strip. */
const layouts = [new WeakMap<object, HeadLayout>(), new WeakMap<object, HeadLayout>()] as const;

/** The layout of the plan's arcs; made once for each plan. */
export function layoutOf({ model: { plan }, isFolded }: Scene): HeadLayout {
  if (plan === null) return UNKNOWN_LAYOUT;
  const known = layouts[isFolded ? 1 : 0];
  let layout = known.get(plan);
  if (layout === undefined) {
    layout = headLayout(plan.folds, isFolded);
    known.set(plan, layout);
  }
  return layout;
}

/** The arc of a fold as a path. */
export function arcPath({ view }: Scene, { left, right }: Fold, rise: number): Path2D {
  const from = view.x + left * view.unit;
  const to = view.x + right * view.unit;
  const path = new Path2D();
  path.ellipse((from + to) / 2, view.y - PEG_HEIGHT, (to - from) / 2, rise, 0, Math.PI, 2 * Math.PI);
  return path;
}

/** Width of a peg in px. */
export function pegWidth(unit: number): number {
  return Math.min(22, Math.max(2.5, unit * 0.62));
}

export function drawHead(context: CanvasRenderingContext2D, scene: Scene): void {
  if (isHung(scene.model.board.piece)) drawBar(context, scene);
  drawArcs(context, scene);
  drawPegs(context, scene);
}

function drawBar(context: CanvasRenderingContext2D, { model, view, theme }: Scene): void {
  const y = view.y - PEG_TOP + 6;
  const beyond = Math.max(14, view.unit * 0.8);
  context.lineCap = 'round';
  context.lineWidth = 7;
  context.strokeStyle = theme.lineStrong;
  context.beginPath();
  context.moveTo(view.x - beyond, y);
  context.lineTo(view.x + (model.strings - 1) * view.unit + beyond, y);
  context.stroke();
  context.lineWidth = 2;
  context.strokeStyle = theme.page;
  context.globalAlpha = 0.45;
  context.beginPath();
  context.moveTo(view.x - beyond + 1, y - 1.5);
  context.lineTo(view.x + (model.strings - 1) * view.unit + beyond - 1, y - 1.5);
  context.stroke();
  context.globalAlpha = 1;
}

function drawPegs(context: CanvasRenderingContext2D, { model, view, theme, textures }: Scene): void {
  const width = pegWidth(view.unit);
  const hasNumbers = view.unit >= (model.strings > 99 ? 30 : NUMBERED_UNIT);
  context.textAlign = 'center';
  context.textBaseline = 'middle';
  context.font = `600 ${Math.min(12, Math.max(9.5, view.unit * 0.36))}px ${theme.font}`;
  for (let place = 0; place < model.strings; place++) {
    const x = view.x + place * view.unit;
    const hex = model.hexes[place] as string;
    context.fillStyle = hex;
    context.strokeStyle = inkOn(hex);
    context.fillRect(x - width * 0.2, view.y - PEG_BOTTOM - 4, width * 0.4, PEG_BOTTOM + 5);
    context.beginPath();
    context.roundRect(x - width / 2, view.y - PEG_TOP, width, PEG_TOP - PEG_BOTTOM, width / 2);
    context.fill();
    const texture = textures?.[place] ?? 0;
    if (texture > 0 && view.unit >= 6) {
      const half = (PEG_TOP - PEG_BOTTOM) / 2;
      context.save();
      context.clip();
      context.translate(x, view.y - PEG_BOTTOM - half);
      // Twice as large as the peg, whose corners a lozenge would leave bare.
      drawTexture(context, texture, hex, 2 * half, 2 * half);
      context.restore();
      if (hasNumbers) {
        context.beginPath();
        context.arc(x, view.y - (PEG_TOP + PEG_BOTTOM) / 2, width * 0.42, 0, 2 * Math.PI);
        context.fillStyle = hex;
        context.fill();
      }
      context.strokeStyle = inkOn(hex);
      context.beginPath();
      context.roundRect(x - width / 2, view.y - PEG_TOP, width, PEG_TOP - PEG_BOTTOM, width / 2);
    }
    if (view.unit >= 6) {
      context.globalAlpha = 0.35;
      context.lineWidth = 1;
      context.stroke();
      context.globalAlpha = 1;
    }
    if (!hasNumbers) continue;
    context.fillStyle = inkOn(hex);
    context.fillText(String(place + 1), x, view.y - (PEG_TOP + PEG_BOTTOM) / 2 + 0.5);
  }
}

function drawArcs(context: CanvasRenderingContext2D, scene: Scene): void {
  const { model, view, theme, isFolded } = scene;
  const { plan } = model;
  if (plan === null) {
    drawUnknown(context, scene);
    return;
  }
  const { rises, hasRoomBetween } = layoutOf(scene);
  const faulty = new Set(plan.crossings.flat());
  context.lineCap = 'butt';
  plan.folds.forEach((fold, i) => {
    const path = arcPath(scene, fold, rises[i] as number);
    const hex = model.hexes[fold.left] as string;
    const isFault = faulty.has(i);
    context.strokeStyle = isFault ? theme.warn : theme.lineStrong;
    context.globalAlpha = isFault ? 1 : 0.5;
    context.lineWidth = isFault ? 7 : 4;
    context.stroke(path);
    context.globalAlpha = 1;
    context.lineWidth = 3;
    context.strokeStyle = isFault ? theme.page : hex;
    context.stroke(path);
    if (!isFault) return;
    context.setLineDash([5, 4]);
    context.strokeStyle = hex;
    context.stroke(path);
    context.setLineDash([]);
  });
  // Numbers after all arcs, so that no arc runs through one; a strip has no room for them.
  plan.folds.forEach((fold, i) => {
    if (isFolded || (fold.right - fold.left) * view.unit < 13) return;
    drawTurn(context, scene, fold, rises[i] as number, faulty.has(i), hasRoomBetween);
  });
  context.font = `600 11px ${theme.font}`;
  context.textAlign = 'center';
  context.textBaseline = 'middle';
  context.fillStyle = theme.quiet;
  if (view.unit >= 9)
    for (const place of plan.singles)
      context.fillText('|', view.x + place * view.unit, view.y - PEG_HEIGHT - 6);
}

/** No arcs, and why. */
function drawUnknown(context: CanvasRenderingContext2D, { model, view, theme }: Scene): void {
  context.font = `600 13px ${theme.font}`;
  context.textAlign = 'center';
  context.textBaseline = 'alphabetic';
  context.fillStyle = theme.quiet;
  context.fillText(
    t(model.isPlanning ? 'board.planning' : 'board.unplanned'),
    view.x + ((model.strings - 1) / 2) * view.unit,
    view.y - PEG_HEIGHT - 10,
  );
}

function drawTurn(
  context: CanvasRenderingContext2D,
  { view, theme }: Scene,
  { left, right, turn }: Fold,
  rise: number,
  isFault: boolean,
  hasRoomBetween: boolean,
): void {
  const x = view.x + ((left + right) / 2) * view.unit;
  // A small arc would vanish behind its number.
  const isSmall = hasRoomBetween && (right - left) * view.unit < 46;
  const y = view.y - PEG_HEIGHT - rise - (isSmall ? 11 : 0);
  const label = isFault ? `${turn} !` : String(turn);
  context.font = `${isFault ? 700 : 600} 11px ${theme.font}`;
  context.textAlign = 'center';
  context.textBaseline = 'middle';
  const half = Math.max(8, context.measureText(label).width / 2 + 4);
  context.beginPath();
  context.roundRect(x - half, y - 8, 2 * half, 16, 8);
  context.fillStyle = isFault ? theme.warn : theme.page;
  context.fill();
  context.fillStyle = isFault ? theme.page : theme.text;
  context.fillText(label, x, y + 0.5);
}
