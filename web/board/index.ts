export { actionFor, matchesKeys } from './action-keys.ts';
export {
  cutBlock,
  type KnotBlock,
  movedBlock,
  placeBlock,
  repeatedBlock,
  shiftedBlock,
} from './block-text.ts';
export { BoardCanvas, type CanvasSource } from './board-canvas.ts';
export type { ActionHost } from './board-action.ts';
export { actionOf } from './board-actions.ts';
export { boardCommands, otherWords } from './board-commands.ts';
export { type BoardChoice, boardChoice, NOTHING_CHOSEN } from './board-choice.ts';
export { type BoardModel, modelOf } from './board-model.ts';
export { ChartPainter } from './draw-chart.ts';
export type { BandSide } from './draw-finished.ts';
export { drawHead } from './draw-head.ts';
export { drawAxes } from './draw-marks.ts';
export { type MarksPainter, outlineCell } from './draw-overlay.ts';
export { drawKnots, LEAST_SPRITE_UNIT, plainLozenge, wholeBand } from './draw-knots.ts';
export type { Command } from './command.ts';
export { ColourChosenEvent, type PointEvent, type Pointed, RefusedEvent } from './events.ts';
export { dressModel, type FinishedModel, finishedModelOf } from './finished-model.ts';
export { type FirstBoard, firstStage, firstView } from './first-view.ts';
export { clearCanvas, FrameDrawing, whenIdle } from './frame-drawing.ts';
export { Gestures } from './gestures.ts';
export { spotAfter } from './keyboard.ts';
export { axisX, type Mirror, mirrorThrough, NO_MIRROR, type TiedCell, withMirrored } from './mirror.ts';
export type { Painter, Scene } from './painter.ts';
export type { Strip } from './repaint.ts';
export { cellBeside, isInBlock } from './spot.ts';
export { KnotSprites } from './knot-sprites.ts';
export { readView } from './kept-view.ts';
export type { LbBoard } from './lb-board.ts';
export type { LbCommandList } from './lb-command-list.ts';
export { LightEvent } from './light-event.ts';
export type { Lit } from './lit-set.ts';
export { followOwnKeys, keysOf, ownKeys } from './own-keys.ts';
export { type PanelId, PanelsBeside, type SheetHeight } from './panels-beside.ts';
export { PIN_VIEW_EVENT, type PinnedAt, type PinView } from './pin-view.ts';
export { PointedMarks } from './pointed-marks.ts';
export { panelName } from './panel-name.ts';
export { recolourings } from './recolourings.ts';
export { type ShownBoard, shownBoard } from './shown-board.ts';
export { sideButtons } from './side-buttons.ts';
export { type TalkHere, TalkHereEvent, type TalkSpot, TalkThreadEvent } from './talk-here.ts';
export { texturesBy } from './textures.ts';
export { chosenTextures, keepTextures, TexturesEvent, wantsTextures } from './textures-event.ts';
export { readTheme, type Theme } from './theme.ts';
export { CHART_ROW, type PixelPoint, pixelToPoint, rowsBetween, snapped, type Viewport } from './viewport.ts';
export { beginZoom } from './zoom-picture.ts';
