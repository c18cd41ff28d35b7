export { MemoryRelayHub } from './memory-relay.ts';
export { RedisRelay, type RedisRelayOptions } from './redis-relay.ts';
export { ACCESS_CHANNEL, LocalRelay, type Relay, type RelayKind, type RelayMessage } from './relay.ts';
