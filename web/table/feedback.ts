/**
 * What the page gives to ears and hands while one ties: the step read aloud, a short sound, a short tremble. All are off at first, and kept
 * on the device. Nothing listens.
 *
 * Read aloud is only with voices that the browser marks as its own: others are spoken elsewhere, and what one makes would go there.
 */
import type { Language } from '../text/index.ts';

export interface FeedbackChoice {
  readonly isAloud: boolean;
  readonly hasSound: boolean;
  readonly hasTremble: boolean;
}

const KEY = 'larkboard.table-feedback';
/** Nothing of it. */
export const SILENT: FeedbackChoice = { isAloud: false, hasSound: false, hasTremble: false };
/** Short enough for two in a second. */
const SOUND_MS = 60;
const TREMBLE_MS = 30;
const PITCH_HZ = 660;
const LOUDNESS = 0.2;

type Shelf = Pick<Storage, 'getItem' | 'setItem'>;

/** What was chosen; nothing where it can't be read. */
export function readFeedback(shelf: Shelf = localStorage): FeedbackChoice {
  try {
    const kept = JSON.parse(shelf.getItem(KEY) ?? 'null') as Partial<
      Record<keyof FeedbackChoice, unknown>
    > | null;
    return {
      isAloud: kept?.isAloud === true,
      hasSound: kept?.hasSound === true,
      hasTremble: kept?.hasTremble === true,
    };
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    return SILENT;
  }
}

/** Where the storage is full, it is known until the page is closed. */
export function keepFeedback(choice: FeedbackChoice, shelf: Shelf = localStorage): void {
  try {
    shelf.setItem(KEY, JSON.stringify(choice));
  } catch (error) {
    if (!(error instanceof DOMException)) throw error;
  }
}

/** The browser's own voice for a language; null where it has none, or none that it marks as its own. Rule N92. */
export function ownVoice(
  voices: readonly SpeechSynthesisVoice[],
  language: Language,
): SpeechSynthesisVoice | null {
  const own = voices.filter(
    ({ localService, lang }) => localService === true && lang.toLowerCase().split(/[-_]/)[0] === language,
  );
  return own.find((voice) => voice.default) ?? own[0] ?? null;
}

/** What of the browser is used; each null where it has none. */
export interface FeedbackDevice {
  readonly speech: Pick<SpeechSynthesis, 'getVoices' | 'speak' | 'cancel'> | null;
  readonly newUtterance: (text: string) => SpeechSynthesisUtterance;
  readonly newAudio: (() => AudioContext) | null;
  readonly vibrate: ((ms: number) => boolean) | null;
}

/** This browser. */
export function ownDevice(): FeedbackDevice {
  return {
    speech: 'speechSynthesis' in globalThis ? speechSynthesis : null,
    newUtterance: (text) => new SpeechSynthesisUtterance(text),
    newAudio: 'AudioContext' in globalThis ? () => new AudioContext() : null,
    vibrate: 'vibrate' in navigator ? (ms) => navigator.vibrate(ms) : null,
  };
}

export class Feedback {
  readonly #device: FeedbackDevice;
  readonly #language: () => Language;
  #audio: AudioContext | null = null;
  #said = '';

  constructor(device: FeedbackDevice, language: () => Language) {
    this.#device = device;
    this.#language = language;
  }

  get canSound(): boolean {
    return this.#device.newAudio !== null;
  }

  get canTremble(): boolean {
    return this.#device.vibrate !== null;
  }

  /** Whether there is a voice that may be used. Browsers know their voices only some time after the page is there. */
  get canSpeak(): boolean {
    return this.#voice !== null;
  }

  get #voice(): SpeechSynthesisVoice | null {
    return ownVoice(this.#device.speech?.getVoices() ?? [], this.#language());
  }

  /** Reads a step aloud in place of what is being said; the same one once. Rule N92. */
  say(text: string, { isAloud }: FeedbackChoice): void {
    const { speech, newUtterance } = this.#device;
    const voice = isAloud ? this.#voice : null;
    if (speech === null || voice === null) {
      this.hush();
      return;
    }
    if (text === this.#said) return;
    speech.cancel();
    const utterance = newUtterance(text);
    utterance.voice = voice;
    utterance.lang = voice.lang;
    speech.speak(utterance);
    this.#said = text;
  }

  hush(): void {
    if (this.#said !== '') this.#device.speech?.cancel();
    this.#said = '';
  }

  /** A step counted. Rule N93. */
  touch({ hasSound, hasTremble }: FeedbackChoice): void {
    if (hasTremble) this.#device.vibrate?.(TREMBLE_MS);
    if (hasSound) this.#beep();
  }

  #beep(): void {
    this.#audio ??= this.#device.newAudio?.() ?? null;
    if (this.#audio === null) return;
    const { currentTime, destination } = this.#audio;
    const tone = this.#audio.createOscillator();
    const volume = this.#audio.createGain();
    tone.frequency.value = PITCH_HZ;
    // Fading out: a tone that is cut off clicks.
    volume.gain.setValueAtTime(LOUDNESS, currentTime);
    volume.gain.exponentialRampToValueAtTime(0.001, currentTime + SOUND_MS / 1000);
    tone.connect(volume).connect(destination);
    tone.start();
    tone.stop(currentTime + SOUND_MS / 1000);
  }
}
