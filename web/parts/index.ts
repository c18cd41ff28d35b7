export { endFirstSight, whenSeen } from './first-sight.ts';
export { letMissing, missingPart, onTold, tellMissing, toldMissing } from './missing-part.ts';
export { fetchMeanwhile, fetchPart, type Part, type PartManifest, registerParts, usePart } from './parts.ts';
export { fetchIfThere, loadProblems, type MissingKind, tryFetch, whyMissing } from './try-fetch.ts';
