/** German. */
import type { LanguageTexts } from '../language.ts';

export const german: LanguageTexts = {
  name: 'Deutsch',
  first: async () => (await import('./first.ts')).deFirst,
  groups: {
    aside: async () => (await import('./aside.ts')).deAside,
    common: async () => (await import('./common.ts')).deCommon,
    compare: async () => (await import('./compare.ts')).deCompare,
    help: async () => (await import('./help.ts')).deHelp,
    notices: async () => (await import('./notices.ts')).deNotices,
    panels: async () => (await import('./panels-inside.ts')).dePanelsInside,
    paper: async () => (await import('./paper.ts')).dePaper,
    people: async () => (await import('./people.ts')).dePeople,
    price: async () => (await import('./price.ts')).dePrice,
    set: async () => (await import('./set.ts')).deSet,
    share: async () => (await import('./share.ts')).deShare,
    sheets: async () => (await import('./sheets.ts')).deSheets,
    start: async () => (await import('./start.ts')).deStart,
    table: async () => (await import('./table.ts')).deTable,
    talk: async () => (await import('./talk.ts')).deTalk,
    undo: async () => (await import('./undo.ts')).deUndo,
    versions: async () => (await import('./versions.ts')).deVersions,
    writing: async () => (await import('./writing.ts')).deWriting,
  },
  steps: async () => (await import('./common.ts')).deStepWords,
};
