import { afterEach, describe, expect, it, vi } from 'vitest';
import { Feedback, keepFeedback, ownDevice, ownVoice, readFeedback } from '../../../web/table/feedback.ts';
import { MapShelf } from '../../support/map-shelf.ts';

const voice = (
  name: string,
  lang: string,
  localService: boolean,
  isDefault = false,
): SpeechSynthesisVoice => ({
  name,
  lang,
  localService,
  default: isDefault,
  voiceURI: name,
});
const OFF = { isAloud: false, hasSound: false, hasTremble: false };

/** A browser with these voices. @returns what it was told to do, in turn */
function device(voices: SpeechSynthesisVoice[]) {
  const deeds: string[] = [];
  const param = { value: 0, setValueAtTime: () => {}, exponentialRampToValueAtTime: () => {} };
  const node = {
    frequency: param,
    gain: param,
    connect: () => node,
    start: () => deeds.push('sound'),
    stop: () => {},
  };
  const feedback = new Feedback(
    {
      speech: {
        getVoices: () => voices,
        cancel: () => deeds.push('hush'),
        speak: ({ text, voice }) => deeds.push(`${voice?.name}: ${text}`),
      },
      newUtterance: (text) => ({ text }) as SpeechSynthesisUtterance,
      newAudio: () =>
        ({
          currentTime: 0,
          destination: node,
          createOscillator: () => node,
          createGain: () => node,
        }) as never,
      vibrate: (ms) => deeds.push(`tremble ${ms}`) > 0,
    },
    () => 'en',
  );
  return { feedback, deeds };
}

describe('what ears and hands are given', () => {
  it('[N93] all of it is off until it is chosen, and what was chosen is kept', () => {
    const shelf = new MapShelf();
    expect(readFeedback(shelf)).toEqual(OFF);
    const { feedback, deeds } = device([voice('own', 'en-GB', true)]);
    feedback.touch(readFeedback(shelf));
    feedback.say('Row 1.', readFeedback(shelf));
    expect(deeds).toEqual([]);
    keepFeedback({ ...OFF, hasSound: true }, shelf);
    expect(readFeedback(shelf)).toEqual({ ...OFF, hasSound: true });
    for (const kept of ['no', '[]', '{"isAloud":1}']) {
      shelf.setItem('larkboard.table-feedback', kept);
      expect(readFeedback(shelf), kept).toEqual(OFF);
    }
    shelf.isFull = true;
    expect(() => keepFeedback(OFF, shelf)).not.toThrow();
  });

  it('[N93] a step that counts sounds and trembles as chosen', () => {
    const { feedback, deeds } = device([]);
    feedback.touch({ ...OFF, hasSound: true });
    feedback.touch({ ...OFF, hasTremble: true });
    expect(deeds).toEqual(['sound', 'tremble 30']);
  });

  it('[N92] only voices that the browser marks as its own are used, in the language of the page', () => {
    const [far, own, other, german] = [
      voice('far', 'en-US', false, true),
      voice('own', 'en-GB', true),
      voice('other', 'en_AU', true, true),
      voice('german', 'de-DE', true),
    ] as const;
    expect(ownVoice([far], 'en')).toBeNull();
    expect(ownVoice([far, german], 'en')).toBeNull();
    expect(ownVoice([far, own], 'en')).toBe(own);
    expect(ownVoice([far, own, other], 'en')).toBe(other);
    expect(ownVoice([far, own, german], 'de')).toBe(german);
    const { feedback, deeds } = device([far]);
    feedback.say('Row 1.', { ...OFF, isAloud: true });
    expect([feedback.canSpeak, deeds]).toEqual([false, []]);
  });

  it('[N92] a step is read once, in place of the one before, and not when it is switched off', () => {
    const { feedback, deeds } = device([voice('own', 'en-GB', true)]);
    const on = { ...OFF, isAloud: true };
    for (const text of ['Row 1.', 'Row 1.', 'Row 2.']) feedback.say(text, on);
    expect(deeds).toEqual(['hush', 'own: Row 1.', 'hush', 'own: Row 2.']);
    feedback.say('Row 2.', OFF);
    feedback.say('Row 2.', OFF);
    expect(deeds.slice(4)).toEqual(['hush']);
    feedback.say('Row 2.', on);
    expect(deeds.at(-1)).toBe('own: Row 2.');
  });
});

describe('this browser', () => {
  afterEach(() => vi.unstubAllGlobals());

  it('[N92] [N93] without a voice, sound or tremble gives none, and nothing breaks', () => {
    vi.stubGlobal('navigator', {});
    const device = ownDevice();
    expect([device.speech, device.newAudio, device.vibrate]).toEqual([null, null, null]);
    const feedback = new Feedback(device, () => 'en');
    expect([feedback.canSpeak, feedback.canSound, feedback.canTremble]).toEqual([false, false, false]);
    feedback.touch({ isAloud: true, hasSound: true, hasTremble: true });
    feedback.say('Row 1.', { ...OFF, isAloud: true });
  });

  it('[N92] [N93] with them gives its own', () => {
    const speech = { getVoices: () => [], speak: () => {}, cancel: () => {} };
    const trembles: number[] = [];
    class Utterance {
      readonly text: string;
      constructor(text: string) {
        this.text = text;
      }
    }
    class Audio {}
    vi.stubGlobal('speechSynthesis', speech);
    vi.stubGlobal('SpeechSynthesisUtterance', Utterance);
    vi.stubGlobal('AudioContext', Audio);
    vi.stubGlobal('navigator', { vibrate: (ms: number) => trembles.push(ms) > 0 });
    const device = ownDevice();
    expect(device.speech).toBe(speech);
    expect(device.newUtterance('Row 1.')).toMatchObject({ text: 'Row 1.' });
    expect(device.newAudio?.()).toBeInstanceOf(Audio);
    expect([device.vibrate?.(20), trembles]).toEqual([true, [20]]);
  });

  it('what goes wrong with what is kept, other than that there is no room or no such thing, is not hidden', () => {
    const thrown = new RangeError('ours');
    const broken = {
      getItem: (): never => {
        throw thrown;
      },
      setItem: (): never => {
        throw thrown;
      },
    };
    expect(() => readFeedback(broken)).toThrow(thrown);
    expect(() => keepFeedback(OFF, broken)).toThrow(thrown);
  });
});
