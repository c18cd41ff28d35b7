/** Opens the talk about a board once its page is there, and joins the two. */
import { html, type TemplateResult } from 'lit';
import type { PanelsBeside, TalkHereEvent, TalkThreadEvent } from '../board/index.ts';
import { type BoardSession, TalkSession } from '../sync/index.ts';
import type { OpenPanelEvent } from './open-panel-event.ts';
import { TalkDesk } from './talk-desk.ts';
import { heard } from './talk-words.ts';

export { LbEntryMark } from './lb-entry-mark.ts';
export { LbTalkPins } from './lb-talk-pins.ts';

/** With these the maker begins something else than what was asked for last. */
const OTHER = ['pointerdown', 'keydown'] as const;

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
  page: HTMLElement,
  { session, panels }: { readonly session: BoardSession; readonly panels: PanelsBeside },
  { canTalk, isOwner }: { readonly canTalk: boolean; readonly isOwner: boolean },
  onChange: () => void,
): OpenTalk {
  const talk = new TalkSession(session.server, session.boardId);
  const desk = new TalkDesk(session, talk, canTalk, isOwner);
  const voice = makeVoice();
  desk.onNews((remarks) => {
    voice.textContent = heard(desk, remarks);
  });
  desk.subscribe(onChange);
  // Who has spoken here keeps their name.
  const hearOf = (): void => session.hearOf([...desk.speakers.values()]);
  desk.subscribe(hearOf);
  hearOf();
  const onHere = ({ wants, spot }: TalkHereEvent): void => {
    desk.spot = spot;
    panels.show('talk', { kind: 'place', wants });
  };
  const onThread = ({ thread }: TalkThreadEvent): void => panels.show('talk', { kind: 'thread', thread });
  const onPanel = ({ panel, entry }: OpenPanelEvent): void =>
    panels.show(panel, entry && { kind: 'entry', panel, at: entry });
  const onOther = (): void => panels.giveUpEntry();
  page.addEventListener('lb-talk-here', onHere);
  page.addEventListener('lb-talk-thread', onThread);
  page.addEventListener('lb-open-panel', onPanel);
  for (const kind of OTHER) addEventListener(kind, onOther, true);
  const end = (): void => {
    page.removeEventListener('lb-talk-here', onHere);
    page.removeEventListener('lb-talk-thread', onThread);
    page.removeEventListener('lb-open-panel', onPanel);
    for (const kind of OTHER) removeEventListener(kind, onOther, true);
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
