import { type PaletteColour, texturesOf } from '../../engine/index.ts';
import type { Textures } from './textures.ts';

const KEY = 'larkboard.textures';

/** Whether the maker of this browser wants textures. */
export function wantsTextures(): boolean {
  return localStorage.getItem(KEY) === 'on';
}

/** The textures to draw a palette with on files and paper; undefined where the maker wants none. */
export function chosenTextures(palette: readonly PaletteColour[]): Textures | undefined {
  return wantsTextures() ? texturesOf(palette) : undefined;
}

export function keepTextures(isOn: boolean): void {
  localStorage.setItem(KEY, isOn ? 'on' : 'off');
}

/** The texture of each palette colour is another one now; null = no textures are wanted. */
export class TexturesEvent extends Event {
  readonly textures: Textures | null;

  constructor(textures: Textures | null) {
    super('lb-textures', { bubbles: true, composed: true });
    this.textures = textures;
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-textures': TexturesEvent;
  }
}
