import lazy from 'preact-iso/lazy';

type Screens = typeof import('./screens');

/**
 * The way in and the day's list come with the first script; all else when one
 * of it is first opened. The service worker has it on the tablet already.
 */
export function screen<K extends keyof Screens>(name: K) {
  return lazy(() => import('./screens').then((all) => all[name]));
}
