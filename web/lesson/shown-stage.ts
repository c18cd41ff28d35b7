/** The stage of making at which a keychain is, in a lesson: as at the table, but without a sound, and drawn over. */
import { html, type TemplateResult } from 'lit';
import type { Board, CutList } from '../../engine/index.ts';
import { type Drawn, type Keychain, SILENT } from '../table/index.ts';
import type { Course } from './course.ts';

export interface ShownStage {
  readonly keychain: Keychain;
  /** As this hand sees it, in these colours. */
  readonly board: Board;
  readonly course: Course;
  readonly list: CutList | null;
  readonly drawn: Drawn;
}

/** Rule R48. */
export function renderStage({ keychain, board, course: { cords }, list, drawn }: ShownStage): TemplateResult {
  switch (keychain.stage) {
    case 'cut':
      return html`<lb-table-cut .keychain=${keychain} .board=${board} .cords=${cords}></lb-table-cut>`;
    case 'mount':
      return html`<lb-table-mount .keychain=${keychain} .board=${board} .cords=${cords} .drawn=${drawn}></lb-table-mount>`;
    case 'tie':
      return html`<lb-table-tie .keychain=${keychain} .board=${board} .choice=${SILENT} .drawn=${drawn}></lb-table-tie>`;
    case 'finish':
      return html`<lb-table-finish .keychain=${keychain} .board=${board} .list=${list}></lb-table-finish>`;
    default:
      throw new TypeError(`unknown stage ${JSON.stringify(keychain.stage satisfies never)}`);
  }
}
