/** Every text in every language: none missing, none left untranslated, the same values filled in. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { german } from '../../web/text/de-all.ts';
import { deAside } from '../../web/text/de-aside.ts';
import { deCommon } from '../../web/text/de-common.ts';
import { deCompare } from '../../web/text/de-compare.ts';
import { deHelp } from '../../web/text/de-help.ts';
import { dePanelsInside } from '../../web/text/de-panels-inside.ts';
import { dePaper } from '../../web/text/de-paper.ts';
import { deSet } from '../../web/text/de-set.ts';
import { deShare } from '../../web/text/de-share.ts';
import { deSheets } from '../../web/text/de-sheets.ts';
import { deStart } from '../../web/text/de-start.ts';
import { deTalk } from '../../web/text/de-talk.ts';
import { deVersions } from '../../web/text/de-versions.ts';
import { en } from '../../web/text/en.ts';
import { enAside } from '../../web/text/en-aside.ts';
import { enBoard } from '../../web/text/en-board.ts';
import { enCommon } from '../../web/text/en-common.ts';
import { enCompare } from '../../web/text/en-compare.ts';
import { enCraft } from '../../web/text/en-craft.ts';
import { enDoubt } from '../../web/text/en-doubt.ts';
import { enHelp } from '../../web/text/en-help.ts';
import { enLinks } from '../../web/text/en-links.ts';
import { enPanels } from '../../web/text/en-panels.ts';
import { enPanelsInside } from '../../web/text/en-panels-inside.ts';
import { enPaper } from '../../web/text/en-paper.ts';
import { enProblems } from '../../web/text/en-problems.ts';
import { enSet } from '../../web/text/en-set.ts';
import { enShare } from '../../web/text/en-share.ts';
import { enSheets } from '../../web/text/en-sheets.ts';
import { enStart } from '../../web/text/en-start.ts';
import { enTalk } from '../../web/text/en-talk.ts';
import { enVersions } from '../../web/text/en-versions.ts';

const english: Record<string, string> = {
  ...en,
  ...enBoard,
  ...enLinks,
  ...enAside,
  ...enPanelsInside,
  ...enHelp,
  ...enPaper,
  ...enCommon,
  ...enStart,
  ...enCompare,
  ...enSet,
  ...enShare,
  ...enSheets,
  ...enTalk,
  ...enVersions,
};
const inGerman: Record<string, string> = {
  ...german,
  ...deAside,
  ...dePanelsInside,
  ...deHelp,
  ...dePaper,
  ...deCommon,
  ...deStart,
  ...deCompare,
  ...deSet,
  ...deShare,
  ...deSheets,
  ...deTalk,
  ...deVersions,
};

/** Texts that both languages write alike: names, and words they share. */
const SHARED = new Set(['app.name', 'sheet.a4', 'cut.minutesValue', 'set.name']);

function valuesIn(text: string): readonly string[] {
  return [...new Set([...text.matchAll(/\{(\w+)/g)].map(([, name]) => name as string))].sort();
}

describe('texts', () => {
  it('[X20] both languages have the same texts', () => {
    expect(Object.keys(inGerman).sort()).toEqual(Object.keys(english).sort());
  });

  it('[X20] no text is empty', () => {
    const empty = [english, inGerman].flatMap((texts) =>
      Object.entries(texts).filter(([, text]) => text.trim() === ''),
    );
    expect(empty).toEqual([]);
  });

  it('[X20] a translation fills in the same values', () => {
    const wrong = Object.entries(english)
      .filter(([key, text]) => valuesIn(text).join() !== valuesIn(inGerman[key] ?? '').join())
      .map(([key, text]) => `${key}: ${text} | ${inGerman[key]}`);
    expect(wrong).toEqual([]);
  });

  it('[X20] a longer text is not left in English', () => {
    const left = Object.entries(english)
      .filter(
        ([key, text]) =>
          text === inGerman[key] && !SHARED.has(key) && /[a-z]{3}/.test(text.replace(/\{[^}]*\}/g, '')),
      )
      .map(([key]) => key);
    expect(left).toEqual([]);
  });

  it('[X20] no key stands in two files', () => {
    const files = [
      en,
      enBoard,
      enLinks,
      enPanels,
      enPanelsInside,
      enHelp,
      enPaper,
      enCraft,
      enDoubt,
      enProblems,
      enStart,
      enCompare,
      enSet,
      enShare,
      enSheets,
      enTalk,
      enVersions,
    ];
    const keys = files.flatMap((file) => Object.keys(file));
    expect(keys.filter((key, i) => keys.indexOf(key) !== i)).toEqual([]);
  });

  it('[X20] every text is spoken somewhere: its key, or the beginning of its key, stands in the code', () => {
    const root = join(import.meta.dirname, '../../web');
    const code = readdirSync(root, { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.ts') && !name.startsWith('text'))
      .map((name) => readFileSync(join(root, name), 'utf8'))
      .join('\n');
    // `t(`error.${kind}`)`: what stands before the value.
    const beginnings = [...code.matchAll(/`([a-zA-Z]+(?:\.[a-zA-Z]+)*\.)\$\{/g)].map(
      ([, beginning]) => beginning!,
    );
    const dead = Object.keys(english).filter(
      (key) => !code.includes(`'${key}'`) && !beginnings.some((beginning) => key.startsWith(beginning)),
    );
    expect(dead).toEqual([]);
  });
});
