/** What other pages take of making at the table. Its elements come with the part `page-table`. */
export { sayChanges } from './changed-knots.ts';
export { codeDrawing } from './code-drawing.ts';
export { type Cord, cordsOf, type MountMove, mountMoves } from './cords.ts';
export type { Drawn, Spot } from './drawn.ts';
export { SILENT } from './feedback.ts';
export { reachableOrigins } from './hand-over.ts';
export { Hands } from './hands.ts';
export type { KeychainEvent } from './keychain-event.ts';
export { freshKeychain, type Keychain, KeychainShelf } from './keychain-shelf.ts';
export { tablePageStyles } from './lb-table-page.styles.ts';
export type { TableStage } from './stage.ts';
export { firstHalfIn, mirrorBoard, type View } from './views.ts';
