/** English, which is there from the start. */
import type { LanguageTexts } from '../language.ts';
import type { enAside } from './aside.ts';
import type { enCommon } from './common.ts';
import type { enCompare } from './compare.ts';
import { enFirst } from './first.ts';
import type { enHelp } from './help.ts';
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
import type { enTalk } from './talk.ts';
import type { enUndo } from './undo.ts';
import type { enVersions } from './versions.ts';
import type { enWriting } from './writing.ts';

export { enFirst };

export const english: LanguageTexts = {
  name: 'English',
  first: async () => enFirst,
  groups: {
    aside: async () => (await import('./aside.ts')).enAside,
    common: async () => (await import('./common.ts')).enCommon,
    compare: async () => (await import('./compare.ts')).enCompare,
    help: async () => (await import('./help.ts')).enHelp,
    notices: async () => (await import('./notices.ts')).enNotices,
    panels: async () => (await import('./panels-inside.ts')).enPanelsInside,
    paper: async () => (await import('./paper.ts')).enPaper,
    people: async () => (await import('./people.ts')).enPeople,
    price: async () => (await import('./price.ts')).enPrice,
    set: async () => (await import('./set.ts')).enSet,
    share: async () => (await import('./share.ts')).enShare,
    sheets: async () => (await import('./sheets.ts')).enSheets,
    start: async () => (await import('./start.ts')).enStart,
    table: async () => (await import('./table.ts')).enTable,
    talk: async () => (await import('./talk.ts')).enTalk,
    undo: async () => (await import('./undo.ts')).enUndo,
    versions: async () => (await import('./versions.ts')).enVersions,
    writing: async () => (await import('./writing.ts')).enWriting,
  },
  steps: null,
};

/** The other languages have the same keys. */
export type TextKey =
  | keyof typeof enFirst
  | keyof typeof enAside
  | keyof typeof enCommon
  | keyof typeof enCompare
  | keyof typeof enHelp
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
  | keyof typeof enTalk
  | keyof typeof enUndo
  | keyof typeof enVersions
  | keyof typeof enWriting;
