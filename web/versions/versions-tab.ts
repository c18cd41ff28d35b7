/** Everything the tab of versions needs, in one fetch. */
export { LbVersionPicture } from './lb-version-picture.ts';
export { LbVersionView } from './lb-version-view.ts';
export { LbVersionsPanel } from './lb-versions-panel.ts';
