export { type AppDeps, createApp } from './app.ts';
export { type Asker, type Authorize, authorizeByAddress, type Denial, type Pass } from './authorize.ts';
export { type Clock, machineClock } from './clock.ts';
export { Log } from './log.ts';
export { Metrics } from './metrics.ts';
export {
  forwardedAddress,
  forwardedSecure,
  type RunningServer,
  type ServeDeps,
  startServer,
} from './serve.ts';
export { readSettings, type Settings } from './settings.ts';
