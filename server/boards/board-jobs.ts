/** What the thread for large work does for boards. */
import { BOARD, COPY, FILE, SUMMARY } from './design-reads.ts';
import { SENT_BOARD, SENT_FILE } from './sent-boards.ts';

export const BOARD_JOBS = [SUMMARY, BOARD, FILE, COPY, SENT_FILE, SENT_BOARD];
