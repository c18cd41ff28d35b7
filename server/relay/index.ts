export { RedisRelay, type RedisRelayOptions } from './redis-relay.ts';
export { LocalRelay, type Relay, type RelayKind, type RelayMessage } from './relay.ts';
