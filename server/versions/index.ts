export { Recorder, type RecorderTimes } from './recorder.ts';
export { Snapshots, VERSION_JOBS } from './snapshots.ts';
export { isToCome, thinnedOut, VERSION_CAPS } from './thinning.ts';
export { readVersion, VERSION_RECORD, type Version } from './version-about.ts';
export { versionRoutes } from './version-routes.ts';
export { Versions } from './versions.ts';
