/** Secrets of links and sessions: 128 random bits or more, kept only as hashes. */
import { createHash, randomBytes } from 'node:crypto';

/** A new secret, 32 characters of base64url, 192 bits. */
export function newSecret(): string {
  return randomBytes(24).toString('base64url');
}

/** An id nobody can guess, 22 characters of base64url, 128 bits. */
export function newUnguessableId(): string {
  return randomBytes(16).toString('base64url');
}

/**
 * SHA-256 in hex. Secrets are random and long, so a plain hash is enough: there is nothing to guess offline, and a
 * look-up by hash does not leak how far a guess agreed.
 */
export function hashSecret(secret: string): string {
  return createHash('sha256').update(secret, 'utf8').digest('hex');
}

/** Whether the text can be a secret at all; anything else is refused before it is hashed. */
export function isSecretShaped(text: unknown): text is string {
  return typeof text === 'string' && /^[A-Za-z0-9_-]{32}$/.test(text);
}
