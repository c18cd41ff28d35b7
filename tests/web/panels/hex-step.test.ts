/** The picker of a colour as one step of undo. */
import type { ReactiveControllerHost } from 'lit';
import { describe, expect, it } from 'vitest';
import { LATER_COMMANDS } from '../../../engine/document/index.ts';
import { HexStep } from '../../../web/panels/hex-step.ts';
import { openDesign } from '../../support/open-design.ts';

const host = { addController: () => {} } as unknown as ReactiveControllerHost;

describe('a colour dragged about in the picker', () => {
  it('[B383] is one step however long it takes; what comes after it is another', () => {
    const design = openDesign();
    design.giveCommands(LATER_COMMANDS);
    const { id, hex } = design.snapshot.board.palette[0]!;
    const before = hex;
    const step = new HexStep(host, () => design);
    const hexNow = (): string => design.snapshot.board.palette[0]!.hex;
    const edit = (value: string): void =>
      step.take(() => void design.run({ kind: 'edit-colour', id, hex: value }));
    // Commands of this design are a step each unless something holds them together.
    for (let i = 0; i < 8; i++) edit(`#10203${i}`);
    step.end();
    edit('#aabbcc');
    // The field goes out of the page with the picker open.
    step.hostDisconnected();
    step.end();
    design.undo();
    expect(hexNow()).toBe('#102037');
    design.undo();
    expect(hexNow()).toBe(before);
    expect(design.canUndo).toBe(false);
  });
});
