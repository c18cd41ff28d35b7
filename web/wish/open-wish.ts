/** Opens the screen on which what should show is painted, over the board it is for. */
import type { ActionHost, LbBoard } from '../board/index.ts';
import type { LbWish } from './lb-wish.ts';

export { LbWishAnswers } from './lb-wish-answers.ts';
export { LbWish } from './lb-wish.ts';

/** Once over each board; it goes when it is closed. */
export function openWish({ stage, editor }: ActionHost): void {
  const board = (stage.getRootNode() as ShadowRoot).host as LbBoard;
  const over = board.parentElement;
  if (over === null || !editor.canEdit || over.querySelector('lb-wish') !== null) return;
  const wish = document.createElement('lb-wish') as LbWish;
  wish.session = board.session;
  wish.region = editor.selection;
  const others = [...over.children] as HTMLElement[];
  const hide = (isHidden: boolean): void => {
    for (const other of others) other.inert = isHidden;
  };
  wish.addEventListener('lb-close', () => {
    wish.remove();
    hide(false);
    over.style.position = '';
    board.focusCell();
  });
  hide(true);
  // What it lies over need not be a box to lie in.
  over.style.position = 'relative';
  over.append(wish);
}
