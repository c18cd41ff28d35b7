/**
 * What is fetched later, and with what: the only place that imports anything while the page runs. It stands above all floors, and those
 * who want a part know its name alone. Who adds one: its file exports its elements, and nothing that is there from the start imports it.
 */
import type { PanelId } from './board/index.ts';
import type { Part, PartManifest } from './parts/index.ts';

/** A panel for each tab. */
type PanelParts = Readonly<Record<`panel-${PanelId}`, Part>>;

export const PARTS = {
  // Beside the board, from the start
  people: {
    file: () => import('./people/lb-people.ts'),
    texts: ['people'],
    elements: ['lb-people', 'lb-name-box'],
  },
  company: { file: () => import('./sync/join-company.ts'), texts: ['people'] },
  strip: { file: () => import('./visit/lb-strip.ts'), elements: ['lb-strip'] },
  panels: { file: () => import('./panels/lb-panels.ts'), texts: ['panels'], elements: ['lb-panels'] },
  writing: {
    file: () => import('./writing/lb-text-field.ts'),
    texts: ['writing'],
    elements: ['lb-left-words', 'lb-text-field'],
  },
  'panel-icons': { file: () => import('./icons/panel-icons.ts') },
  talk: {
    file: () => import('./talk/start-talk.ts'),
    // The entries of the panels are called as their panels call them.
    texts: ['talk', 'panels'],
    elements: ['lb-talk-pins', 'lb-entry-mark'],
  },
  proposals: {
    file: () => import('./proposals/lb-proposal-bar.ts'),
    texts: ['compare'],
    elements: ['lb-proposal-bar'],
  },
  begin: {
    file: () => import('./start/lb-begin.ts'),
    texts: ['figures'],
    elements: ['lb-begin'],
    needs: ['band-picture'],
  },
  beginnings: {
    file: () => import('./start/lb-beginnings.ts'),
    texts: ['figures'],
    elements: ['lb-start-card', 'lb-beginnings'],
    needs: ['keychain'],
  },
  wish: {
    file: () => import('./wish/open-wish.ts'),
    texts: ['wish', 'figures', 'sheets'],
    elements: ['lb-wish-answers', 'lb-wish'],
    needs: ['keychain'],
  },
  sources: {
    file: () => import('./start/lb-sources.ts'),
    texts: ['start'],
    elements: ['lb-image-frame', 'lb-sources'],
    needs: ['beginnings'],
  },
  'first-steps': {
    file: () => import('./start/lb-first-steps.ts'),
    texts: ['help'],
    elements: ['lb-first-steps'],
  },
  'demo-copy': { file: () => import('./pages/demo-copy.ts'), texts: ['panels'] },
  'own-steps': { file: () => import('./visit/own-steps.ts'), texts: ['undo'] },
  notices: {
    file: () => import('./notices/lb-lost-notice.ts'),
    texts: ['notices'],
    elements: ['lb-lost-notice'],
  },
  renewal: { file: () => import('./sync/next-generation.ts') },
  'left-copies': {
    file: () => import('./pages/lb-left-copies.ts'),
    texts: ['aside'],
    elements: ['lb-left-copies'],
  },
  aside: { file: () => import('./visit/aside-offer.ts'), texts: ['aside'] },

  // From everywhere
  commands: { file: () => import('./pages/page-commands.ts'), needs: ['sheets'] },

  // On the board
  'one-tab-stop': { file: () => import('./board/one-tab-stop.ts'), elements: ['lb-one-tab-stop'] },
  sheets: {
    file: () => import('./board/lb-command-list.ts'),
    texts: ['sheets'],
    elements: ['lb-board-menu', 'lb-command-list', 'lb-shortcut-sheet'],
  },
  finished: {
    file: () => import('./board/lb-finished.ts'),
    texts: ['common'],
    elements: ['lb-finished', 'lb-second-look'],
  },
  'later-drawing': { file: () => import('./board/later-drawing.ts') },
  paths: { file: () => import('./board/draw-paths.ts') },
  pegs: { file: () => import('./board/peg-hand.ts') },
  'band-picture': { file: () => import('./board/lb-band-picture.ts'), elements: ['lb-band-picture'] },
  keychain: { file: () => import('./board/lb-keychain.ts'), elements: ['lb-keychain'] },
  'colourway-look': { file: () => import('./pages/colourway-look.ts'), texts: ['panels'] },

  // Panels
  outcome: {
    file: () => import('./panels/lb-outcome.ts'),
    texts: ['panels'],
    elements: ['lb-outcome'],
    needs: ['keychain'],
  },
  'panel-mounting': {
    file: () => import('./panels/lb-mounting-panel.ts'),
    texts: ['panels'],
    elements: ['lb-cautions', 'lb-mount-steps', 'lb-ways-out', 'lb-mounting-panel'],
  },
  'panel-colours': {
    file: () => import('./panels/lb-palette-panel.ts'),
    texts: ['panels'],
    elements: ['lb-palette-panel', 'lb-colour-check'],
    needs: ['writing'],
  },
  'panel-symmetry': {
    file: () => import('./panels/lb-symmetry-panel.ts'),
    texts: ['panels'],
    elements: ['lb-symmetry-panel', 'lb-repeat-panel'],
    needs: ['band-picture'],
  },
  'panel-piece': {
    file: () => import('./panels/lb-piece-panel.ts'),
    texts: ['panels'],
    elements: ['lb-piece-panel'],
  },
  'panel-gauge': {
    file: () => import('./panels/lb-gauge-panel.ts'),
    texts: ['panels'],
    elements: ['lb-gauge-panel'],
  },
  'panel-cutting': {
    file: () => import('./panels/lb-cutting-panel.ts'),
    texts: ['panels'],
    elements: ['lb-cutting-panel', 'lb-beginning'],
  },
  'panel-cost': {
    file: () => import('./panels/lb-cost-panel.ts'),
    texts: ['price', 'panels'],
    elements: ['lb-part-lines', 'lb-thread-lines', 'lb-cost-panel'],
    needs: ['writing'],
  },
  'panel-work': {
    file: () => import('./panels/lb-work-panel.ts'),
    texts: ['panels'],
    elements: ['lb-work-panel'],
  },
  'panel-talk': {
    file: () => import('./talk/lb-talk-panel.ts'),
    texts: ['talk', 'panels'],
    elements: ['lb-remark-box', 'lb-talk-panel'],
  },
  'panel-proposals': {
    file: () => import('./proposals/lb-proposals-panel.ts'),
    texts: ['compare', 'panels'],
    elements: ['lb-proposals-panel'],
  },
  'panel-versions': {
    file: () => import('./versions/lb-versions-panel.ts'),
    texts: ['versions', 'panels'],
    elements: ['lb-version-picture', 'lb-version-view', 'lb-versions-panel'],
    needs: ['writing'],
  },
  'panel-notes': {
    file: () => import('./panels/lb-notes-panel.ts'),
    texts: ['panels'],
    elements: ['lb-notes-panel'],
    needs: ['writing'],
  },

  // Dialogs, and what only they need
  links: { file: () => import('./links/lb-links-panel.ts'), texts: ['share'], elements: ['lb-links-panel'] },
  'in-out': {
    file: () => import('./files/lb-in-out.ts'),
    texts: ['paper'],
    elements: ['lb-whole-board', 'lb-in-out'],
  },
  'hand-over': {
    file: () => import('./table/lb-hand-over.ts'),
    texts: ['share'],
    elements: ['lb-hand-over'],
  },
  'take-over': { file: () => import('./table/take-over.ts'), texts: ['share'] },
  compare: {
    file: () => import('./compare/lb-compare.ts'),
    texts: ['compare', 'panels'],
    elements: ['lb-compare-picture', 'lb-compare'],
  },
  visits: {
    file: () => import('./versions/lb-visits.ts'),
    texts: ['versions', 'compare', 'panels'],
    elements: ['lb-visits'],
  },
  review: { file: () => import('./proposals/lb-review.ts'), elements: ['lb-review'], needs: ['compare'] },
  'save-file': { file: () => import('./files/save-file.ts') },
  'read-board': { file: () => import('./files/read-board.ts'), texts: ['paper', 'common'] },
  'whole-board': { file: () => import('./files/whole-board.ts'), texts: ['paper'] },

  // Pages
  'page-start': {
    file: () => import('./pages/lb-start-page.ts'),
    texts: ['start'],
    elements: ['lb-start-page'],
    needs: ['band-picture'],
  },
  'page-paper': {
    file: () => import('./paper/lb-paper-page.ts'),
    texts: ['paper', 'price', 'panels'],
    elements: ['lb-paper-page'],
  },
  'page-help': { file: () => import('./pages/lb-help-page.ts'), texts: ['help'], elements: ['lb-help-page'] },
  'page-table': {
    file: () => import('./table/lb-table-page.ts'),
    texts: ['table', 'panels'],
    elements: [
      'lb-hanging-strip',
      'lb-table-cut',
      'lb-table-mount',
      'lb-table-tie',
      'lb-table-finish',
      'lb-table-page',
    ],
  },
  'page-lesson': {
    file: () => import('./lesson/lb-lesson-page.ts'),
    texts: ['lesson'],
    elements: [
      'lb-lesson-door',
      'lb-lesson-list',
      'lb-lesson-ready',
      'lb-lesson-plan',
      'lb-lesson-roster',
      'lb-lesson-walk',
      'lb-lesson-work',
      'lb-lesson-page',
    ],
    needs: ['page-table'],
  },
  'table-aid': {
    file: () => import('./table/lb-table-aid.ts'),
    elements: ['lb-table-aid', 'lb-table-measure'],
  },
  'page-set': {
    file: () => import('./set/lb-set-page.ts'),
    texts: ['set', 'price', 'panels'],
    elements: ['lb-set-colours', 'lb-set-editor', 'lb-set-shopping', 'lb-set-page'],
    needs: ['writing', 'keychain'],
  },
} as const satisfies PartManifest & PanelParts;

type Files = { readonly [N in keyof typeof PARTS]: Awaited<ReturnType<(typeof PARTS)[N]['file']>> };

declare module './parts/parts.ts' {
  interface PartFiles extends Files {}
}
