/** Where the page takes text: what several write is typed in one field, and each other place for words is known. */
import { expect, it } from 'vitest';
import { filesBelow, readSource } from './source-files.ts';

/** Fields for words outside `web/writing`, and why nobody else writes there. */
const ALONE: Readonly<Record<string, string>> = {
  'web/board/lb-command-list.ts': 'what is looked for',
  'web/fields/field.ts': 'a number',
  'web/files/lb-in-out.ts': 'a board to be read',
  'web/files/lb-whole-board.ts': 'a title typed to confirm',
  'web/lesson/lb-lesson-page.ts': 'what one is called in a lesson',
  'web/lesson/lb-lesson-plan.ts': 'a note of a lesson, written as a whole when it is left',
  'web/lesson/lb-lesson-roster.ts': 'what one learner is told',
  'web/links/lb-links-panel.ts': 'the name of a link that is made, and its address to be copied',
  'web/pages/lb-start-page.ts': 'a board to be read',
  'web/people/lb-name-box.ts': 'one’s own name, asked on coming',
  'web/people/lb-people.ts': 'one’s own name',
  'web/proposals/lb-proposals-panel.ts': 'the title of a proposal that is made',
  'web/proposals/lb-review.ts': 'one’s answer to a proposal',
  'web/set/lb-set-colours.ts': 'the code of a colour',
  'web/set/lb-set-shopping.ts': 'a list to be copied',
  'web/start/lb-sources.ts': 'the letters of a new board',
  'web/table/lb-table-page.ts': 'what one’s own keychain is called',
  'web/table/own-measure.ts': 'what a measure of one’s own is called',
  'web/talk/lb-remark-box.ts': 'one’s own remark',
  'web/versions/lb-versions-panel.ts': 'the name of a version that is made',
};

const FIELD = /<(?:input|textarea)\b(?:\$\{[^}]*\}|[^>])*/g;
const NO_WORDS = /type="(?:checkbox|color|file|number|radio|range|date)"/;

it('[W1008] only what one writes alone has a field of its own', () => {
  const found = filesBelow('web', ['.ts'])
    .map(readSource)
    .filter(({ path }) => !path.startsWith('web/writing/'))
    .filter(({ text }) => [...text.matchAll(FIELD)].some(([field]) => !NO_WORDS.test(field)))
    .map(({ path }) => path);
  expect(found.sort()).toEqual(Object.keys(ALONE).sort());
});

it('[W1008] no panel writes such a text itself', () => {
  const writes = filesBelow('web', ['.ts'])
    .map(readSource)
    .filter(({ text }) => /kind: 'set-title'|patch: \{ notes|kind: 'edit-colour'[^}]*\bname:/.test(text))
    .map(({ path }) => path);
  expect(writes).toEqual([]);
});
