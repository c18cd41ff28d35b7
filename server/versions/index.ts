export { RECORDER_TIMES, Recorder, type RecorderTimes } from './recorder.ts';
export { packSnapshot, type Snapshot, snapshotOf } from './snapshot.ts';
export { Snapshots, VERSION_JOBS } from './snapshots.ts';
export {
  type AgingVersion,
  isToCome,
  thinnedOut,
  VERSION_CAPS,
  type VersionCaps,
  type VersionKind,
} from './thinning.ts';
export { readVersion, VERSION_RECORD, type Version, type VersionAbout } from './version-about.ts';
export { type VersionRoutesDeps, versionRoutes } from './version-routes.ts';
export { Versions, type VersionsDeps } from './versions.ts';
