/** What a look of the board is to the element that shows it. */
import type { BoardModel } from './board-model.ts';
import type { Strip } from './repaint.ts';
import type { Theme } from './theme.ts';
import type { Viewport } from './viewport.ts';

export interface Scene {
  readonly model: BoardModel;
  readonly view: Viewport;
  readonly theme: Theme;
  /** Device px of a CSS px. */
  readonly ratio: number;
  /** Number of the texture of each string's colour, 0 for none; null where no textures are wanted. */
  readonly textures: readonly number[] | null;
  /** Whether the arcs above the pegs are folded to a strip. */
  readonly isFolded: boolean;
}

export interface Painter {
  /** Height of a row, in places. */
  readonly rowPerPlace: number;
  /** Whether strings are seen inside knots too, where they carry. */
  readonly hasCarriers: boolean;
  /** Draws what lies in the strip, which is clean and clipped to; the context counts in CSS px. */
  paint(context: CanvasRenderingContext2D, scene: Scene, strip: Strip): void;
}
