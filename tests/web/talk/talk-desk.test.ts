/** What the page knows of the talk about a board, without a browser: news, marks on the board, what waits to be sent. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { addressOfEntry, type Pin, remarkIdOf, type Speaker } from '../../../engine/document/index.ts';
import type { BoardSession } from '../../../web/sync/index.ts';
import { Subject } from '../../../web/context/subject.ts';
import { entryKey } from '../../../web/talk/entry-words.ts';
import { type NewRemark, TalkDesk } from '../../../web/talk/talk-desk.ts';
import { HeardTalk } from '../../support/heard-talk.ts';
import type { MapShelf } from '../../support/map-shelf.ts';
import { openDesign, runAll } from '../../support/open-design.ts';
import { stubPage } from '../../support/page-globals.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';

const ME: Speaker = { id: 'me', name: 'Mara', hex: '#336699' };
const IDA: Speaker = { id: 'ida', name: 'Ida', hex: '#993366' };
const BOARD: Pin = { kind: 'board' };

let shelf: MapShelf;
let page: EventTarget;
/** What of the page is listened to. */
let listened: string[];
const desks: TalkDesk[] = [];

beforeEach(() => {
  shelf = stubPage();
  shelf.kept.set('larkboard.person', JSON.stringify(ME));
  page = new EventTarget();
  // No two things are said in one millisecond.
  let now = 0;
  vi.spyOn(Date, 'now').mockImplementation(() => ++now);
  listened = [];
  vi.stubGlobal('addEventListener', (kind: string, listener: EventListener) => {
    listened.push(kind);
    page.addEventListener(kind, listener);
  });
  vi.stubGlobal('removeEventListener', (kind: string, listener: EventListener) => {
    listened.splice(listened.indexOf(kind), 1);
    page.removeEventListener(kind, listener);
  });
});
afterEach(() => {
  for (const desk of desks.splice(0)) desk.dispose();
  vi.restoreAllMocks();
  vi.unstubAllGlobals();
});

/** The desk of a page of board `b`. What is said there reaches `talk`. */
function open({ talk = new HeardTalk(), design = openDesign(sampleBoard(6, 6)), canTalk = true } = {}) {
  vi.stubGlobal('fetch', talk.fetch);
  const people: { presence: { person: Speaker } }[] = [];
  const session = { design, boardId: 'b', people: new Subject(people) } as unknown as BoardSession;
  const desk = new TalkDesk(session, talk, canTalk, false);
  desks.push(desk);
  const news: (readonly NewRemark[])[] = [];
  desk.onNews((remarks) => news.push(remarks));
  let changes = 0;
  desk.subscribe(() => changes++);
  return { talk, design, desk, people, news, changes: () => changes };
}

/** What another tab does to the browser's storage is heard here. */
const inAnotherTab = (key: string, value: string): void => {
  shelf.kept.set(key, value);
  page.dispatchEvent(Object.assign(new Event('storage'), { key }));
};
/** Until what was said last was tried, and each of these sendings was answered. */
const sent = (talk: HeardTalk, count: number): Promise<void> =>
  until('the server has it and the page knows', () => talk.got.length === count && !waits());
const waits = (): boolean => [...shelf.kept.keys()].some((key) => key.startsWith('larkboard.outbox.'));
const textsOf = (desk: TalkDesk): readonly (string | null)[] =>
  desk.threads.flatMap(({ remarks }) => remarks.map(({ text }) => text));

describe('news', () => {
  it('[G3] is what others say once all that was said before has come in, not one’s own and not what was taken back', () => {
    const { talk, desk, news } = open();
    // From the copy in this browser, and then what the server had besides.
    const thread = talk.say(IDA, { kind: 'open-thread', pin: BOARD, text: 'before' });
    talk.connect();
    talk.say(ME, { kind: 'answer', thread, text: 'mine' });
    expect([news, desk.hasSynced]).toEqual([[], true]);
    const remark = talk.say(IDA, { kind: 'answer', thread, text: 'for you', mentions: ['me'] });
    talk.say(IDA, { kind: 'take-back-remark', thread, remark });
    talk.say(IDA, { kind: 'answer', thread, text: 'for all' });
    talk.connect(false);
    talk.connect();
    expect(news.map((remarks) => remarks.map(({ by, text, isForMe }) => [by.name, text, isForMe]))).toEqual([
      [['Ida', 'for you', true]],
      [['Ida', 'for all', false]],
    ]);
    expect(news[0]![0]!.thread.id).toBe(thread);
  });

  it('[G3] counts as new until it was looked at; what was looked at stays so after a reload and in every tab', () => {
    const { talk, desk } = open();
    const thread = talk.say(IDA, { kind: 'open-thread', pin: BOARD, text: 'one' });
    const two = talk.say(IDA, { kind: 'answer', thread, text: 'two' });
    talk.say(ME, { kind: 'answer', thread, text: 'mine' });
    const four = talk.say(IDA, { kind: 'answer', thread, text: 'four' });
    const tab = open({ talk }).desk;
    expect([desk.unread, [...desk.unreadIn(thread)]]).toEqual([3, [thread, two, four]]);
    expect(desk.unreadIn('elsewhere').size).toBe(0);
    desk.look(thread, two);
    desk.look(thread, thread);
    desk.look(thread, 'no such remark');
    desk.look('no such thread', four);
    expect([desk.unread, [...desk.unreadIn(thread)]]).toEqual([1, [four]]);
    const key = [...shelf.kept.keys()].find((one) => one.startsWith('larkboard.seen.b.'))!;
    inAnotherTab(key, shelf.kept.get(key)!);
    expect([tab.unread, open({ talk }).desk.unread]).toEqual([1, 1]);
  });
});

describe('marks on the board', () => {
  it('[G2] count what is said about each knot, its row and each string, and go with them', () => {
    const { talk, design, desk } = open();
    const about = (pin: Pin): string => talk.say(IDA, { kind: 'open-thread', pin, text: 'here' });
    const onKnot = about({ kind: 'knot', address: design.addressOf(2, 1)! });
    about({ kind: 'row', address: design.rowAddressOf(2)! });
    about({ kind: 'string', address: design.stringAddressOf(3)! });
    about(BOARD);
    const more = talk.say(IDA, { kind: 'answer', thread: onKnot, text: 'and' });
    talk.say(IDA, { kind: 'answer', thread: onKnot, text: 'more' });
    const counts = (row: number, place: number): readonly number[] => [
      desk.here.countAt({ on: 'knot', row, k: 1 }),
      desk.here.countAt({ on: 'knot', row, k: 0 }),
      desk.here.countAt({ on: 'peg', place }),
    ];
    expect(counts(2, 3)).toEqual([4, 1, 1]);
    talk.say(IDA, { kind: 'take-back-remark', thread: onKnot, remark: more });
    expect(counts(2, 3)).toEqual([3, 1, 1]);
    runAll(design, { kind: 'insert-row-pairs', at: 0, count: 1 });
    expect([counts(2, 3), counts(4, 3)]).toEqual([
      [0, 0, 1],
      [3, 1, 1],
    ]);
    runAll(design, { kind: 'delete-row-pairs', from: 2, count: 1 });
    runAll(design, { kind: 'delete-string-pairs', from: 1, count: 1 });
    expect([counts(4, 3), counts(4, 1)]).toEqual([
      [0, 0, 0],
      [0, 0, 0],
    ]);
  });

  it('[G6] what is done stands on the board no more, until it is open again', () => {
    const { talk, design, desk } = open();
    const pin: Pin = { kind: 'string', address: design.stringAddressOf(0)! };
    const thread = talk.say(IDA, { kind: 'open-thread', pin, text: 'here' });
    const count = (): number => desk.here.countAt({ on: 'peg', place: 0 });
    expect(count()).toBe(1);
    talk.say(IDA, { kind: 'set-done', thread, done: true });
    expect(count()).toBe(0);
    talk.say(IDA, { kind: 'set-done', thread, done: false });
    expect(count()).toBe(1);
  });

  it('[G1] an onlooker has nothing to say there', () => {
    expect([open().desk.here.canTalk, open({ canTalk: false }).desk.here.canTalk]).toEqual([true, false]);
  });

  it('[G2] are shown unless they were put away, here and on every board', () => {
    const { desk, changes } = open();
    expect(desk.hasPins).toBe(true);
    desk.showPins(false);
    expect([desk.hasPins, open().desk.hasPins, changes()]).toEqual([false, false, 1]);
    desk.showPins(true);
    expect(desk.hasPins).toBe(true);
  });

  it('[G2] are counted anew for rows, strings and colours, and not for every knot that is tied', () => {
    const { design, changes } = open();
    runAll(design, { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 4 }] });
    expect(changes()).toBe(0);
    runAll(design, { kind: 'insert-row-pairs', at: 0, count: 1 });
    const afterRows = changes();
    runAll(design, { kind: 'edit-colour', id: 'g', name: 'moss' });
    expect([afterRows, changes()]).toEqual([1, 2]);
  });
});

describe('what is said about panels', () => {
  it('[G1] is found by panel and by entry while it is open; what another adds to an entry joins it', () => {
    const { talk, design, desk } = open();
    const of = addressOfEntry(design, { on: 'colour', id: 'g' })!;
    const inColours = talk.say(IDA, {
      kind: 'open-thread',
      pin: { kind: 'panel', entry: 'colours', of },
      text: 'greener',
    });
    talk.say(IDA, { kind: 'open-thread', pin: { kind: 'panel', entry: 'cutting' }, text: 'longer' });
    const key = entryKey('colours', { on: 'colour', id: 'g' });
    const texts = (threads: TalkDesk['threads']) => threads.map(({ remarks }) => remarks[0]!.text);
    expect([texts(desk.aboutPanel('cutting')), texts(desk.aboutEntry(key))]).toEqual([
      ['longer'],
      ['greener'],
    ]);
    talk.say(ME, { kind: 'open-thread', pin: { kind: 'panel', entry: 'colours', of }, text: 'no' });
    expect(texts(desk.aboutEntry(key))).toEqual(['greener', 'no']);
    talk.say(IDA, { kind: 'set-done', thread: inColours, done: true });
    expect(texts(desk.aboutEntry(key))).toEqual(['no']);
    expect(desk.aboutEntry('nothing of the kind')).toEqual([]);
    runAll(design, { kind: 'remove-colour', id: 'g', replaceWith: 'r' });
    expect(desk.aboutEntry(key)).toEqual([]);
  });

  it('[G2] is asked of the board as it is now, worked out once for each board', () => {
    const { design, desk } = open();
    const { entries } = desk;
    expect(desk.entries).toBe(entries);
    const knot = { on: 'knot', row: 0, k: 1 } as const;
    expect(entries.has('work', knot)).toBe(true);
    runAll(design, { kind: 'set-knots', knots: [{ row: 0, k: 1, knot: 0 }] });
    expect(desk.entries.has('work', knot)).toBe(false);
  });
});

describe('people', () => {
  it('[G4] who is here and who has spoken can be spoken to, as they call themselves now, but not oneself', () => {
    const { talk, desk, people } = open();
    const thread = talk.say({ ...IDA, name: 'I.' }, { kind: 'open-thread', pin: BOARD, text: 'one' });
    talk.say(IDA, { kind: 'answer', thread, text: 'two' });
    talk.say(ME, { kind: 'answer', thread, text: 'three' });
    people.push({ presence: { person: { id: 'ada', name: 'Ada', hex: '#000000' } } });
    people.push({ presence: { person: ME } });
    expect(desk.people.map(({ name }) => name)).toEqual(['Ada', 'Ida']);
    expect(desk.speakers.get('me')).toEqual(ME);
    shelf.kept.set('larkboard.person', JSON.stringify({ ...ME, name: 'M.' }));
    expect(desk.self).toEqual({ ...ME, name: 'M.' });
  });

  it('what a later version has written is not read, which is said', () => {
    const { talk, desk } = open();
    expect(desk.isNewer).toBe(false);
    talk.say(IDA, { kind: 'open-thread', pin: BOARD, text: 'one' });
    talk.doc.getMap('meta').set('version', 1_000);
    expect([desk.isNewer, desk.threads]).toEqual([true, []]);
  });
});

describe('saying something', () => {
  it('[G5] what is said without a line stands there as not sent, and goes out once when the line is back', async () => {
    const talk = new HeardTalk();
    talk.isDown = true;
    const { desk } = open({ talk });
    desk.say({ kind: 'open-thread', pin: BOARD, text: 'one' });
    desk.say({ kind: 'open-thread', pin: BOARD, text: 'two' });
    await turnsOfTheLoop(3);
    expect(desk.threads.map(({ isSent, waiting }) => [isSent, waiting!.send.by])).toEqual([
      [false, ME],
      [false, ME],
    ]);
    talk.isDown = false;
    talk.connect();
    // At once, and not when it would have tried again by itself.
    expect(talk.got).toHaveLength(1);
    await sent(talk, 2);
    expect(talk.got.map(({ command }) => ('text' in command ? command.text : ''))).toEqual(['one', 'two']);
    expect(desk.threads.map(({ isSent, waiting }) => [isSent, waiting])).toEqual([
      [true, null],
      [true, null],
    ]);
    // The line came back once; that it stands is no reason to send again.
    talk.connect();
    await turnsOfTheLoop(3);
    expect(talk.got).toHaveLength(2);
  });

  it('[G5] when the browser is online again it is tried at once', async () => {
    const talk = new HeardTalk();
    talk.isDown = true;
    const { desk } = open({ talk });
    desk.say({ kind: 'open-thread', pin: BOARD, text: 'one' });
    await turnsOfTheLoop(3);
    talk.isDown = false;
    page.dispatchEvent(new Event('online'));
    expect(talk.got).toHaveLength(1);
    await sent(talk, 1);
    expect(desk.threads[0]!.isSent).toBe(true);
  });

  it('[G5] what waited when the page was closed goes out when it is opened; where only the answer was lost, nothing stands there twice', async () => {
    const talk = new HeardTalk();
    talk.isAnswerLost = true;
    const first = open({ talk }).desk;
    first.say({ kind: 'open-thread', pin: BOARD, text: 'one' });
    await until('the answer is lost', () => !first.isOnItsWay(talk.got[0]?.id ?? ''));
    expect([textsOf(first), waits()]).toEqual([['one'], true]);
    first.dispose();
    talk.isAnswerLost = false;
    const { desk } = open({ talk });
    await sent(talk, 2);
    expect([textsOf(desk), talk.snapshot.threads.length]).toEqual([['one'], 1]);
  });

  it('[G5] what the server refuses stays with the reason, until it is tried again or taken back with its words', async () => {
    const { talk, desk } = open();
    talk.refusal = 'limit';
    desk.say({ kind: 'open-thread', pin: BOARD, text: 'one' });
    const { send } = desk.threads[0]!.waiting!;
    const refused = (): Promise<void> =>
      until('it is refused', () => desk.threads[0]!.waiting?.refused === 'limit');
    await refused();
    expect(desk.isOnItsWay(send.id)).toBe(false);
    desk.retry();
    expect([desk.isOnItsWay(send.id), desk.takeBack(send.id)]).toEqual([true, null]);
    await refused();
    expect(talk.got).toHaveLength(2);
    expect([desk.takeBack(send.id), desk.threads]).toEqual(['one', []]);
    expect(desk.takeBack(send.id)).toBeNull();
  });

  it('[G5] what has no words is taken back without any', async () => {
    const { talk, desk } = open();
    const thread = talk.say(IDA, { kind: 'open-thread', pin: BOARD, text: 'one' });
    talk.isDown = true;
    desk.say({ kind: 'set-done', thread, done: true });
    await turnsOfTheLoop(3);
    expect(desk.threads[0]!.done).toMatchObject({ by: ME });
    expect(desk.takeBack(desk.threads[0]!.waiting!.send.id)).toBe('');
    expect(desk.threads[0]!.done).toBeNull();
  });

  it('[G5] what another tab says without a line is seen here too; what is kept of other things is nothing to it', () => {
    const { desk, changes } = open();
    const id = '0123456789abcdef';
    const send = { id, by: ME, command: { kind: 'open-thread', pin: BOARD, text: 'there' } };
    inAnotherTab(`larkboard.outbox.b.${id}`, JSON.stringify({ send, at: 1, refused: null }));
    expect(desk.threads.map(({ id: thread }) => thread)).toEqual([remarkIdOf('me', id)]);
    const before = changes();
    inAnotherTab('larkboard.unit', 'mm');
    // All of it was cleared.
    page.dispatchEvent(Object.assign(new Event('storage'), { key: null }));
    expect(changes()).toBe(before);
  });

  it('[G5] what is being written is kept for each thread, and goes when it is said', () => {
    const { desk } = open();
    expect(desk.draftOf(null)).toBe('');
    desk.keepDraft(null, 'half a');
    desk.keepDraft('t', 'an answer');
    const later = open().desk;
    expect([later.draftOf(null), later.draftOf('t')]).toEqual(['half a', 'an answer']);
    later.keepDraft(null, '');
    expect([desk.draftOf(null), desk.draftOf('t')]).toEqual(['', 'an answer']);
    shelf.isFull = true;
    expect(() => desk.keepDraft(null, 'more')).toThrow(DOMException);
  });
});

describe('at the end', () => {
  it('who has left hears nothing more, of the talk, the board, other tabs or the line', async () => {
    const { talk, design, desk, news, changes } = open();
    talk.connect();
    talk.isDown = true;
    desk.say({ kind: 'open-thread', pin: BOARD, text: 'one' });
    await turnsOfTheLoop(3);
    const before = changes();
    desk.dispose();
    talk.isDown = false;
    talk.say(IDA, { kind: 'open-thread', pin: BOARD, text: 'two' });
    runAll(design, { kind: 'insert-row-pairs', at: 0, count: 1 });
    inAnotherTab('larkboard.seen.b.me', '{}');
    page.dispatchEvent(new Event('online'));
    await turnsOfTheLoop(3);
    expect([changes(), news, talk.got, talk.end]).toEqual([before, [], [], 'disposed']);
    expect([talk.listeners.size, listened]).toEqual([0, []]);
    // It waits for the next visit.
    expect(waits()).toBe(true);
  });

  it('a listener that stops within a call stops itself alone', () => {
    const { talk, desk } = open();
    const heard: string[] = [];
    const stop = desk.subscribe(() => {
      heard.push('first');
      stop();
    });
    desk.subscribe(() => heard.push('second'));
    talk.connect();
    talk.connect();
    expect(heard).toEqual(['first', 'second', 'second']);
  });

  it('of a board that was deleted nothing is left in the browser, of others all', async () => {
    const mine = ['outbox.b.x', 'seen.b.me', 'draft.b.', 'work.b.place'];
    const others = ['outbox.c.x', 'seen.c.me', 'draft.bb.', 'person', 'pins'];
    const { talk, desk } = open();
    for (const key of [...mine, ...others]) shelf.kept.set(`larkboard.${key}`, '{}');
    await desk.forget();
    expect([...shelf.kept.keys()].sort()).toEqual(others.map((key) => `larkboard.${key}`).sort());
    expect(talk.end).toBe('forgotten');
  });
});
