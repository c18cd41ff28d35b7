/** German, fetched where it is chosen. */
import { type LanguageTexts, tablesIn } from '../language.ts';
import { deFirst } from './first.ts';

export const german: LanguageTexts = {
  first: deFirst,
  groups: {
    aside: () => tablesIn(import('./aside.ts')),
    figures: () => tablesIn(import('./figures.ts')),
    common: async () => (await import('./common.ts')).deCommon,
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
  steps: async () => (await import('./common.ts')).deStepWords,
};
