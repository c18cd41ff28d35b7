/** The name of a version while two give it one. */
import { expect, it } from 'vitest';
import { VersionName } from '../../../web/versions/version-name.ts';
import { TextInHand } from '../../../web/writing/text-in-hand.ts';

const nobody = {
  selection: () => ({ start: 0, end: 0, direction: 'none' as const }),
  show: () => {},
  said: () => {},
};

it('[W1009] what another called a version meanwhile is in the name that is saved', () => {
  const name = new VersionName('v', 'First try', 60);
  const hand = new TextInHand(
    name,
    () => () => {},
    () => {},
  );
  hand.attach(nobody);
  hand.typed('First good try', 'insertText');
  expect(name.text).toBe('First try');
  name.tell('First try, long');
  expect(hand.text).toBe('First good try, long');
  expect(hand.save()).toBe(true);
  expect(name.text).toBe('First good try, long');
  name.tell('First try, long');
  expect(hand.text).toBe('First good try, long');
});

it('[W1009] a version that somebody deleted takes no name, and the words stay', () => {
  const name = new VersionName('v', '', 60);
  const left: string[] = [];
  const hand = new TextInHand(
    name,
    () => () => {},
    (one) => {
      if (one.isLeft) left.push(one.text);
    },
  );
  hand.attach(nobody);
  hand.typed(' With\ntails ', 'insertText');
  name.tell(null);
  expect([name.text, name.write('x'), left]).toEqual([null, { kind: 'gone' }, [' With\ntails ']]);
  expect(name.fit(hand.text)).toBe('With tails');
});
