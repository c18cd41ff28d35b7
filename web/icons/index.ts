export { type IconName, icon, knotIcon } from './board-icons.ts';
export { pageIcon } from './page-icons.ts';
