/** How high the rows of the chart are. */
import { expect, it } from 'vitest';
import type { Gauge } from '../../../engine/index.ts';
import type { BoardCanvas } from '../../../web/board/board-canvas.ts';
import { ChartPainter } from '../../../web/board/draw-chart.ts';
import type { Editor } from '../../../web/board/editor.ts';
import type { Painter } from '../../../web/board/painter.ts';
import { shapeChart } from '../../../web/board/shape-chart.ts';
import { CHART_ROW } from '../../../web/board/viewport.ts';
import { sampleBoard } from '../../support/sample-board.ts';

/** A board's element, and how high the rows were of all that it was given to draw. */
function hostOf(gauge: Gauge, look: 'chart' | 'paths' = 'chart') {
  const shown: number[] = [];
  const canvas = {
    setPainter: ({ rowPerPlace }: Painter) => shown.push(Math.round(rowPerPlace * 1e9) / 1e9),
  } as unknown as BoardCanvas;
  const editor = { model: { board: { ...sampleBoard(), gauge } } } as unknown as Editor;
  return { host: { look, isTrueShape: false, canvas, editor, chart: new ChartPainter() }, shown };
}

it('[B201] the chart is flat until its true shape is wanted, then as high as estimated or measured, and flat again', () => {
  for (const [gauge, row] of [
    [{}, 1.15],
    [{ cordMm: 1.2, rowMm: 1.5 }, 1.25],
  ] as const) {
    const { host, shown } = hostOf(gauge);
    shapeChart(host);
    expect(shown).toEqual([]);
    host.isTrueShape = true;
    shapeChart(host);
    // The same shape again draws nothing anew.
    shapeChart(host);
    host.isTrueShape = false;
    shapeChart(host);
    expect(shown).toEqual([row, CHART_ROW]);
  }
});

it('[B201] the ways of the strings stay as they are drawn, and the chart has its shape when it comes back', () => {
  const { host, shown } = hostOf({}, 'paths');
  host.isTrueShape = true;
  shapeChart(host);
  expect(shown).toEqual([]);
  expect(host.chart.rowPerPlace).toBeCloseTo(1.15, 9);
});
