/** Opens the talk about a board once its page is there, and joins the two. */
import { html, type LitElement, type TemplateResult } from 'lit';
import type { EntryPlace } from '../../engine/document/index.ts';
import type { PanelId, TalkHereEvent, TalkThreadEvent } from '../board/index.ts';
import type { BoardSession } from '../sync/index.ts';
import { t } from '../text/index.ts';
import { entryKey } from './entry-words.ts';
import type { LbEntryMark } from './lb-entry-mark.ts';
import type { LbTalkPanel, OpenPanelEvent } from './lb-talk-panel.ts';
import { type NewRemark, TalkDesk } from './talk-desk.ts';
import { beginningOf, placeName } from './talk-words.ts';

export { LbEntryMark } from './lb-entry-mark.ts';
export { LbTalkPins } from './lb-talk-pins.ts';

/** The talk as the page holds it. */
export interface OpenTalk {
  readonly desk: TalkDesk;
  /** Marks to be laid over the board, in its looks. */
  readonly pins: () => TemplateResult | '';
  readonly dispose: () => void;
  /** Instead of `dispose`, where the board was deleted. */
  readonly forget: () => Promise<void>;
}

/**
 * Opens the talk for the page of a board.
 * @param onChange called after every change of the talk
 */
export function startTalk(
  page: LitElement,
  session: BoardSession,
  { canTalk, isOwner }: { readonly canTalk: boolean; readonly isOwner: boolean },
  onChange: () => void,
): OpenTalk {
  const desk = new TalkDesk(session, canTalk, isOwner);
  const voice = makeVoice();
  desk.onNews((remarks) => {
    voice.textContent = heard(desk, remarks);
  });
  desk.subscribe(onChange);
  const onHere = (event: TalkHereEvent): void => void showHere(page, desk, event);
  const onThread = (event: TalkThreadEvent): void => {
    void openTalkPanel(page).then((panel) => panel?.showThread(event.thread));
  };
  page.renderRoot.addEventListener('lb-talk-here', onHere as EventListener);
  page.renderRoot.addEventListener('lb-talk-thread', onThread as EventListener);
  const onPanel = ({ panel, entry }: OpenPanelEvent): void => {
    if (entry !== null) void showEntry(page, panel, entry);
  };
  page.renderRoot.addEventListener('lb-open-panel', onPanel as EventListener);
  const end = (): void => {
    page.renderRoot.removeEventListener('lb-open-panel', onPanel as EventListener);
    page.renderRoot.removeEventListener('lb-talk-here', onHere as EventListener);
    page.renderRoot.removeEventListener('lb-talk-thread', onThread as EventListener);
    voice.remove();
  };
  return {
    desk,
    pins: () =>
      desk.hasPins
        ? html`<lb-talk-pins slot="pins" .desk=${desk} .threads=${desk.threads}></lb-talk-pins>
            <lb-talk-pins slot="finished-pins" .desk=${desk} .threads=${desk.threads} .isFinished=${true}></lb-talk-pins>`
        : '',
    dispose: () => {
      end();
      desk.dispose();
    },
    forget: () => {
      end();
      return desk.forget();
    },
  };
}

/** The talk's panel, opened. */
async function openTalkPanel(page: LitElement): Promise<LbTalkPanel | null> {
  await customElements.whenDefined('lb-panels');
  const panels = page.renderRoot.querySelector('lb-panels');
  if (panels === null) return null;
  panels.open = 'talk';
  await panels.isLoaded('talk');
  return panels.renderRoot.querySelector<LbTalkPanel>('lb-talk-panel');
}

async function showHere(page: LitElement, desk: TalkDesk, event: TalkHereEvent): Promise<void> {
  desk.spot = event.spot;
  (await openTalkPanel(page))?.showHere(event.wants);
}

/** Frames to wait for an entry: a panel may work out its entries after it is shown. */
const MOST_FRAMES = 30;

/** Puts the keyboard on an entry of a panel that is being opened; on nothing where the panel has no such entry in sight. */
async function showEntry(page: LitElement, panel: PanelId, at: EntryPlace): Promise<void> {
  await customElements.whenDefined('lb-panels');
  const panels = page.renderRoot.querySelector('lb-panels');
  await panels?.isLoaded(panel);
  const wanted = entryKey(panel, at);
  for (let frame = 0; frame < MOST_FRAMES && panels?.open === panel; frame++) {
    const hosts = [...panels.renderRoot.querySelectorAll('[role=tabpanel] > *')];
    const [work] = hosts.filter((host) => 'showKnot' in host);
    if (at.on === 'knot') (work as { showKnot?: (at: EntryPlace & { on: 'knot' }) => void })?.showKnot?.(at);
    const marks = hosts.flatMap(({ shadowRoot }) => [
      ...(shadowRoot?.querySelectorAll<LbEntryMark>('lb-entry-mark') ?? []),
    ]);
    const mark = marks.find(({ key }) => key === wanted);
    if (mark !== undefined) {
      mark.showEntry();
      return;
    }
    await new Promise((resolve) => requestAnimationFrame(resolve));
  }
}

/** What is said to a screen reader of new remarks of others. */
function heard(desk: TalkDesk, remarks: readonly NewRemark[]): string {
  const [first, ...more] = remarks;
  if (first === undefined) return '';
  if (more.length > 0) return t('talk.heardMany', { count: remarks.length });
  const { thread, by, text, isForMe } = first;
  const values = { name: by.name, place: placeName(desk, thread.pin), text: beginningOf(text, 120) };
  return t(isForMe ? 'talk.heardForMe' : 'talk.heard', values);
}

function makeVoice(): HTMLElement {
  const voice = document.createElement('div');
  voice.setAttribute('aria-live', 'polite');
  Object.assign(voice.style, {
    position: 'absolute',
    width: '1px',
    height: '1px',
    overflow: 'hidden',
    clipPath: 'inset(50%)',
    // At the end of the page it would make it a pixel longer than the window.
    top: '0',
  });
  document.body.append(voice);
  return voice;
}
