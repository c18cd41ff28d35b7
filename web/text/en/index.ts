/** English, which is there from the start. */
import { type LanguageTexts, tablesIn } from '../language.ts';
import type { enAside } from './aside.ts';
import type { enBegin } from './begin.ts';
import type { enFigures } from './figures.ts';
import type { enFromImage } from './from-image.ts';
import type { enCommon } from './common.ts';
import type { enCompare } from './compare.ts';
import { enFirst } from './first.ts';
import type { enHandOver } from './hand-over.ts';
import type { enHelp } from './help.ts';
import type { enLesson } from './lesson.ts';
import type { enNotices } from './notices.ts';
import type { enPanelsInside } from './panels-inside.ts';
import type { enPaper } from './paper.ts';
import type { enPeople } from './people.ts';
import type { enPrice } from './price.ts';
import type { enSet } from './set.ts';
import type { enShare } from './share.ts';
import type { enSheets } from './sheets.ts';
import type { enStart } from './start.ts';
import type { enTable } from './table.ts';
import type { enTableAid } from './table-aid.ts';
import type { enTableHands } from './table-hands.ts';
import type { enTalk } from './talk.ts';
import type { enUndo } from './undo.ts';
import type { enVersions } from './versions.ts';
import type { enWish } from './wish.ts';
import type { enWriting } from './writing.ts';

export { enFirst };

export const english: LanguageTexts = {
  first: enFirst,
  groups: {
    aside: () => tablesIn(import('./aside.ts')),
    figures: () => tablesIn(import('./figures.ts')),
    common: async () => (await import('./common.ts')).enCommon,
    compare: () => tablesIn(import('./compare.ts')),
    help: () => tablesIn(import('./help.ts')),
    lesson: () => tablesIn(import('./lesson.ts')),
    notices: () => tablesIn(import('./notices.ts')),
    panels: () => tablesIn(import('./panels-inside.ts')),
    paper: () => tablesIn(import('./paper.ts')),
    people: () => tablesIn(import('./people.ts')),
    price: () => tablesIn(import('./price.ts')),
    set: () => tablesIn(import('./set.ts')),
    share: () => tablesIn(import('./share.ts')),
    sheets: () => tablesIn(import('./sheets.ts')),
    start: () => tablesIn(import('./start.ts')),
    table: () => tablesIn(import('./table.ts')),
    talk: () => tablesIn(import('./talk.ts')),
    undo: () => tablesIn(import('./undo.ts')),
    versions: () => tablesIn(import('./versions.ts')),
    wish: () => tablesIn(import('./wish.ts')),
    writing: () => tablesIn(import('./writing.ts')),
  },
  steps: null,
};

/** The other languages have the same keys. */
export type TextKey =
  | keyof typeof enFirst
  | keyof typeof enAside
  | keyof typeof enBegin
  | keyof typeof enFigures
  | keyof typeof enFromImage
  | keyof typeof enCommon
  | keyof typeof enCompare
  | keyof typeof enHandOver
  | keyof typeof enHelp
  | keyof typeof enLesson
  | keyof typeof enNotices
  | keyof typeof enPanelsInside
  | keyof typeof enPaper
  | keyof typeof enPeople
  | keyof typeof enPrice
  | keyof typeof enSet
  | keyof typeof enShare
  | keyof typeof enSheets
  | keyof typeof enStart
  | keyof typeof enTable
  | keyof typeof enTableAid
  | keyof typeof enTableHands
  | keyof typeof enTalk
  | keyof typeof enUndo
  | keyof typeof enVersions
  | keyof typeof enWish
  | keyof typeof enWriting;
