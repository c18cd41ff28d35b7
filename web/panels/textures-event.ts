import type { Textures } from '../board/draw-chart.ts';

const KEY = 'larkboard.textures';

/** Whether the maker of this browser wants textures. */
export function wantsTextures(): boolean {
  return localStorage.getItem(KEY) === 'on';
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
