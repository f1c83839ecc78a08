import { h, type ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { lazy, loadLazy, type Lazy as Screens } from './lazy';

type PropsOf<C> = C extends ComponentType<infer P> ? P & object : never;

/**
 * The way in and the day's list come with the first script; all else with the
 * lazy one, which the service worker has on the tablet already. Until it is here
 * such a screen is empty, and when it cannot be had that is said.
 */
export function screen<K extends keyof Screens>(name: K) {
  return function Lazy(props: PropsOf<Screens[K]>) {
    const [failed, fail] = useState<unknown>();
    const Screen = lazy.value?.[name] as ComponentType<object> | undefined;
    useEffect(() => {
      if (Screen === undefined) loadLazy().catch(fail);
    }, []);
    if (failed !== undefined) throw failed;
    return Screen === undefined ? null : h(Screen, props);
  };
}
