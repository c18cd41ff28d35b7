/** What the thread for large work does for boards. */
import { BOARD, COPY, FILE, GLANCE, SUMMARY } from './design-reads.ts';
import { SENT_BOARD, SENT_FILE } from './sent-boards.ts';

export const BOARD_JOBS = [SUMMARY, GLANCE, BOARD, FILE, COPY, SENT_FILE, SENT_BOARD];
