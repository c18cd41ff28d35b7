/**
 * The canvas of the pattern. Draws what changed and nothing else: the rows an edit reached, the strips a scroll brought into sight.
 *
 * Invariant: after `draw`, the canvas shows the scene given, as if all of it had been drawn anew.
 */
import type { BoardModel } from './board-model.ts';
import { changedRows, planScroll, type Strip, type WovenRows } from './paint-plan.ts';
import type { Painter, Scene } from './painter.ts';
import type { Size } from './viewport.ts';

interface Shown {
  readonly painter: Painter;
  readonly scene: Scene;
  readonly size: Size;
}

export class PatternLayer {
  readonly #canvas: HTMLCanvasElement;
  readonly #context: CanvasRenderingContext2D;
  #shown: Shown | null = null;

  constructor(canvas: HTMLCanvasElement) {
    this.#canvas = canvas;
    const context = canvas.getContext('2d', { alpha: false });
    if (context === null) throw new Error('this browser gives no canvas to draw the pattern on');
    this.#context = context;
  }

  /** The canvas was given another size, and is empty. */
  forget(): void {
    this.#shown = null;
  }

  draw(painter: Painter, scene: Scene, size: Size): void {
    const before = this.#shown;
    this.#shown = { painter, scene, size };
    const whole = { left: 0, top: 0, ...size };
    const isOther =
      before === null ||
      before.painter !== painter ||
      before.scene.theme !== scene.theme ||
      before.scene.ratio !== scene.ratio ||
      before.size.width !== size.width ||
      before.size.height !== size.height;
    if (isOther) {
      this.#paint(painter, scene, whole);
      return;
    }
    const plan = planScroll(before.scene.view, scene.view, size);
    if (before.scene.model !== scene.model) {
      // An edit that arrives in the same frame as a scroll is rare enough to draw everything.
      const strip = plan.kind === 'nothing' ? stripOfChange(before.scene.model, scene, size) : whole;
      if (strip !== null) this.#paint(painter, scene, strip);
      return;
    }
    if (plan.kind === 'nothing') return;
    if (plan.kind === 'all') {
      this.#paint(painter, scene, whole);
      return;
    }
    this.#shift(plan.dx * scene.ratio, plan.dy * scene.ratio);
    for (const strip of plan.strips) this.#paint(painter, scene, strip);
  }

  #shift(dx: number, dy: number): void {
    const context = this.#context;
    context.save();
    context.setTransform(1, 0, 0, 1, 0, 0);
    context.globalCompositeOperation = 'copy';
    context.imageSmoothingEnabled = false;
    context.drawImage(this.#canvas, Math.round(dx), Math.round(dy));
    context.restore();
  }

  #paint(painter: Painter, scene: Scene, strip: Strip): void {
    const context = this.#context;
    context.save();
    context.setTransform(scene.ratio, 0, 0, scene.ratio, 0, 0);
    context.imageSmoothingEnabled = false;
    context.beginPath();
    context.rect(strip.left, strip.top, strip.width, strip.height);
    context.clip();
    context.fillStyle = scene.theme.page;
    context.fillRect(strip.left, strip.top, strip.width, strip.height);
    painter.paint(context, scene, strip);
    context.restore();
  }
}

function wovenRows({ board, strings, rows, start, weave }: BoardModel): WovenRows {
  return { strings, rows, start, knots: board.pattern.knots, shown: weave.shownFlat, order: weave.orderFlat };
}

/** The part of the canvas that shows other knots or colours than before; null when none does. */
function stripOfChange(before: BoardModel, { model, view }: Scene, size: Size): Strip | null {
  const isSameColours = before.hexes.every((hex, i) => hex === model.hexes[i]) && before.plan === model.plan;
  const changed = isSameColours ? changedRows(wovenRows(before), wovenRows(model)) : 'all';
  if (changed === null) return null;
  if (changed === 'all') return { left: 0, top: 0, ...size };
  const top = Math.max(0, Math.floor(view.y + (changed.from - 1) * view.row));
  const bottom = changed.to >= model.rows - 1 ? size.height : Math.ceil(view.y + (changed.to + 3) * view.row);
  const height = Math.min(size.height, bottom) - top;
  const left = Math.max(0, Math.floor(view.x + (changed.fromPlace - 1.5) * view.unit));
  const right = Math.min(size.width, Math.ceil(view.x + (changed.toPlace + 1.5) * view.unit));
  return height <= 0 || right <= left ? null : { left, top, width: right - left, height };
}
