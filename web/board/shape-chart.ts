/** Gives the chart the shape that is wanted: flat, or as high for its width as the band will be. Fetched when it is first asked for. */
import { rowPerWidth } from '../../engine/index.ts';
import type { Look } from './board-action.ts';
import type { BoardCanvas } from './board-canvas.ts';
import { ChartPainter } from './draw-chart.ts';
import type { Editor } from './editor.ts';
import { CHART_ROW } from './viewport.ts';

/** The board's element, as far as this goes. */
interface ShapeHost {
  readonly look: Look;
  readonly isTrueShape: boolean;
  readonly canvas: BoardCanvas | null;
  readonly editor: Editor;
  chart: ChartPainter;
}

/** A chart of that shape already stays, so that nothing is drawn anew. */
export function shapeChart(host: ShapeHost): void {
  const row = host.isTrueShape ? rowPerWidth(host.editor.model.board.gauge) : CHART_ROW;
  if (host.chart.rowPerPlace === row) return;
  host.chart = new ChartPainter(row);
  if (host.look !== 'paths') host.canvas?.setPainter(host.chart);
}
