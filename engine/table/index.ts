export { findPlace } from './find-place.ts';
export { stillNeeded } from './still-needed.ts';
export { untie } from './untie.ts';
