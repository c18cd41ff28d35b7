/** Everything that can be done from a page, for the list of commands: on its board, with its panels and files, and with the page itself. */
import {
  type ActionHost,
  boardCommands,
  type Command,
  type LbCommandList,
  otherWords,
  type PanelId,
  panelName,
} from '../board/index.ts';
import { keepTextures, TexturesEvent, wantsTextures } from '../board/index.ts';
import { texturesOf } from '../../engine/index.ts';
import { tryFetch } from '../parts/index.ts';
import type { PageHandles } from '../talk/index.ts';
import { currentLanguage, keepLanguage, LANGUAGES, type Language, speak, t } from '../text/index.ts';
import { keepUnit, readUnit, SHOWN_UNITS } from '../units/index.ts';
import { goTo } from '../visit/index.ts';

/** The board of a page, and the ways from it. */
export interface BoardWays {
  readonly board: ActionHost & HTMLElement;
  readonly handles: PageHandles;
  readonly go: (path: string) => unknown;
  readonly share: () => unknown;
  readonly inOut: () => unknown;
}

const PANELS: readonly PanelId[] = [
  'mounting',
  'colours',
  'symmetry',
  'piece',
  'gauge',
  'cutting',
  'work',
  'talk',
  'proposals',
  'versions',
  'notes',
];

type Line = Pick<Command, 'id' | 'name' | 'run'> & { readonly why?: string | null };

function under(group: string, lines: readonly Line[]): readonly Command[] {
  return lines.map((line) => ({ why: null, words: otherWords(line.id), group, ...line }));
}

function boardPages({ handles, board, go, share, inOut }: BoardWays): readonly Command[] {
  const at = `/board/${handles.session.boardId}`;
  return [
    ...under(
      t('panels.tabs'),
      PANELS.map((id) => ({
        id: `panel-${id}`,
        name: panelName(id, board.editor.model.board.piece),
        run: () => handles.panels.show(id),
      })),
    ),
    ...under(t('board.inOut'), [
      { id: 'in-out', name: t('board.inOut'), run: inOut },
      { id: 'print', name: t('command.print'), run: () => go(`${at}/print`) },
      { id: 'card', name: t('command.card'), run: () => go(`${at}/card`) },
      { id: 'share', name: t('links.share'), run: share },
      { id: 'set', name: t('board.set'), run: () => go(`${at}/set`) },
    ]),
  ];
}

function settings(ways: BoardWays | null): readonly Command[] {
  const languages = Object.entries(LANGUAGES) as [Language, { readonly name: string }][];
  const board = ways?.board.editor.model.board;
  return under(t('command.settings'), [
    ...languages.map(([tag, { name }]) => ({
      id: `language-${tag}`,
      name: t('command.language', { name }),
      why: tag === currentLanguage() ? t('command.isSo') : null,
      run: async () => {
        const spoken = await tryFetch(() => speak(tag));
        if (spoken.ok) keepLanguage(tag);
      },
    })),
    ...SHOWN_UNITS.map((unit) => ({
      id: `unit-${unit}`,
      name: t('command.unit', { unit }),
      why: unit === readUnit() ? t('command.isSo') : null,
      run: () => keepUnit(unit),
    })),
    ...(ways === null || board === undefined
      ? []
      : [
          {
            id: 'textures',
            name: t(wantsTextures() ? 'command.noTextures' : 'command.textures'),
            run: () => {
              const isOn = !wantsTextures();
              keepTextures(isOn);
              ways.board.dispatchEvent(new TexturesEvent(isOn ? texturesOf(board.palette) : null));
            },
          },
        ]),
  ]);
}

/** @param ways null where the page has no board, or it is not open */
function pageCommands(ways: BoardWays | null): readonly Command[] {
  const go = ways?.go ?? goTo;
  return [
    ...(ways === null ? [] : [...boardCommands(ways.board), ...boardPages(ways)]),
    ...settings(ways),
    ...under(t('app.name'), [
      { id: 'home', name: t('board.back'), run: () => go('/') },
      { id: 'help', name: t('app.help'), run: () => go('/help') },
    ]),
  ];
}

/** Opens the list over a page, once. It goes when it is closed. */
export function openList(page: ParentNode, ways: BoardWays | null): void {
  if (page.querySelector('lb-command-list') !== null) return;
  const list = document.createElement('lb-command-list') as LbCommandList;
  list.commands = pageCommands(ways);
  list.addEventListener('lb-close', () => list.remove());
  page.append(list);
}
