/** How long a socket is waited for, and how much it may ask and let wait. */
import { LIMITS } from '../../engine/document/index.ts';

/** Ticks of silence, 5 s each, after which something is said, so that stock clients (30 s) don't take the line for dead. */
export const KEEP_ALIVE_TICKS = 4;
/** Silence of the client after which it is asked whether it is there; stock clients say something every 15 s. */
export const SILENCE_MS = 16_000;
/** Pings unanswered for so long end the socket. */
export const PING_MS = 15_000;
export const PROBE_MS = 2_000;
/** Questions for the whole document or everybody's presence; clients ask once a socket, or every few seconds if told to. */
export const QUESTIONS_PER_SECOND = 2;
/** While the store fails honest clients have one mark that waits: edits that are not taken hold back the rest. */
export const MOST_MARKS_WAITING = 1_000;
/** A state vector names clients, in some seven bytes each; it is kept while its answer waits. */
export const MOST_VECTOR_BYTES = 256 * 1024;
/** A frame with a piece of a copy, its kind and its numbers: it comes when it was asked for, beyond what may come in a second. */
export const MOST_PIECE_BYTES = LIMITS.copyPieceBytes + 32;
