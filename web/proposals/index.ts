export type { LbReview } from './lb-review.ts';
