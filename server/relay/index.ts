export { LocalRelay, type Relay, type RelayKind, type RelayMessage } from './relay.ts';
