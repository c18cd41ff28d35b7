export { Consumer, type Context, provide } from './context.ts';
export { Subject } from './subject.ts';
export { Subscriptions } from './subscriptions.ts';
