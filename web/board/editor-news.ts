/** What happened on the board that the maker should hear of. */

import type { CommandError } from '../../engine/document/index.ts';
import { t } from '../text/index.ts';
import type { BlockError } from './block-text.ts';

export type EditorNews =
  | { readonly kind: 'refused'; readonly why: CommandError | null }
  | { readonly kind: 'no-such-colour' }
  | { readonly kind: 'choose-a-colour' }
  | { readonly kind: 'no-middle' }
  | { readonly kind: 'axis-gone' }
  | { readonly kind: 'bad-clip'; readonly error: BlockError }
  | { readonly kind: 'outside'; readonly count: number }
  | { readonly kind: 'tied'; readonly count: number }
  | { readonly kind: 'copied'; readonly count: number }
  | { readonly kind: 'picked' };

/** A sentence for the live region; empty where another way of telling is used. */
export function newsText(news: EditorNews): string {
  switch (news.kind) {
    case 'no-such-colour':
      return t('board.say.noSuchColour');
    case 'choose-a-colour':
      return t('board.say.chooseColour');
    case 'no-middle':
      return t('board.say.noMiddle');
    case 'axis-gone':
      return t('board.say.noMirror');
    case 'outside':
      return t('board.say.outside', { count: news.count });
    case 'copied':
      return t('board.say.copied', { count: news.count });
    case 'bad-clip':
      return clipText(news.error);
    case 'tied':
      return news.count > 1 ? t('board.say.tied', { count: news.count }) : '';
    case 'refused':
    case 'picked':
      return '';
  }
}

function clipText(error: BlockError): string {
  switch (error.kind) {
    case 'empty':
      return t('board.say.emptyClip');
    case 'too-large':
      return t('board.say.largeClip');
    case 'unknown-token':
      return t('board.say.badClip', { line: error.line, token: error.token });
  }
}
