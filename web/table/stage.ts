/** What the stages of making have in common: they are told of the keychain and of its board, and answer the two large buttons. */
import { css, LitElement } from 'lit';
import { property } from 'lit/decorators.js';
import type { Board } from '../../engine/index.ts';
import { type Drawn, NOTHING_DRAWN, readGrid, type Spot, spotAtPoint } from './drawn.ts';
import { KeychainEvent } from './keychain-event.ts';
import type { Keychain } from './keychain-shelf.ts';

/** @fires lb-keychain What changes of the keychain. */
export abstract class TableStage extends LitElement {
  @property({ attribute: false }) keychain!: Keychain;
  @property({ attribute: false }) board!: Board;
  /** What a teacher draws over it, and where she points. */
  @property({ attribute: false }) drawn: Drawn = NOTHING_DRAWN;

  /** The large button. */
  abstract on(): void;
  /** The other one: the last thing is not done. */
  abstract back(): void;
  /** Looks ahead or back without doing anything; where there is nothing to look at, nothing. */
  look(_by: number): void {}

  /** The place of the board at a point of the window; null where there is none. */
  spotAt(clientX: number, clientY: number): Spot | null {
    const group = this.renderRoot.querySelector<SVGGraphicsElement>('g.seen');
    const grid = readGrid(group?.getAttribute('data-grid') ?? null);
    return group === null || grid === null ? null : spotAtPoint(group, clientX, clientY, grid);
  }

  protected change(patch: Partial<Keychain>): void {
    this.dispatchEvent(new KeychainEvent(patch));
  }

  protected hexOf(colour: string): string {
    return this.board.palette.find(({ id }) => id === colour)?.hex ?? '#808080';
  }

  /** What a colour is called, or its value where it has no name. */
  protected nameOf(colour: string): string {
    const found = this.board.palette.find(({ id }) => id === colour);
    return found === undefined ? colour : found.name.trim() || found.hex;
  }
}

export const stageStyles = css`
  :host {
    display: grid;
    gap: var(--lb-space-2);
    grid-template-rows: auto minmax(0, 1fr);
    min-height: 0;
    overflow: hidden;
  }
  .said {
    font-size: 1.25rem;
    line-height: 1.3;
    font-weight: 600;
    overflow-wrap: anywhere;
  }
  .huge {
    font-size: 2.25rem;
    line-height: 1.1;
    font-weight: 750;
    font-variant-numeric: tabular-nums;
  }
  .line {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: var(--lb-space-2);
  }
  .grows {
    min-height: 0;
    overflow: auto;
  }
  svg {
    display: block;
    width: 100%;
    height: 100%;
  }
  .swatch.large {
    width: 2rem;
    height: 2rem;
    border-radius: var(--lb-radius-small);
  }
  @media (max-height: 480px) {
    .said {
      font-size: 1.0625rem;
    }
    .huge {
      font-size: 1.75rem;
    }
  }
  @media (forced-colors: active) {
    .cord {
      forced-color-adjust: none;
    }
  }
`;
