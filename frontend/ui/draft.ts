import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import { apart, merge, same, withFieldsOf } from '../lib/draft/merge';
import { formDrafts } from '../lib/form-drafts';

/** Which draft it is. */
export interface DraftOf {
  /** The id of the client, visit or control, or the name of a screen that is about none. */
  readonly about: string;
  /** Which form, field or dialog of it; in one with what it is about, where there are several. */
  readonly name: string;
  /** What it is, in the words for somebody who leaves it unsaved. Without it, it only says where somebody was. */
  readonly title?: string | undefined;
}

export interface Draft<T> {
  /** What stands there: what was typed, else what is saved. */
  readonly value: T;
  /** It is not what is saved. */
  readonly unsaved: boolean;
  /** What somebody else saved since, where it is about the same. */
  readonly newer: T | undefined;
  /** What stands there at this moment, also between two drawings. */
  readonly now: () => T;
  /** The same without fields in which another tab types: what it has half typed is not saved here. */
  readonly mine: () => T;
  readonly stored: () => T;
  readonly set: (next: T | ((now: T) => T)) => void;
  /** This value is on disk: it is shown until what is stored says so. */
  readonly saved: (value: T) => void;
  /** Throws away what was typed. */
  readonly drop: () => void;
}

/** What a line about a draft must know. */
export type AnyDraft = Pick<Draft<unknown>, 'unsaved' | 'newer' | 'drop'>;

/**
 * The state of a form, a field or a dialog: like useState, but kept on the tablet
 * until it is what is stored. Nothing secret goes through it.
 *
 * While `settled` is false, what looks stored is only on its way.
 */
export function useDraft<T>(of: DraftOf, stored: T, settled = true): Draft<T> {
  const { about, name, title } = of;
  const entry = formDrafts.of(about).value[name];
  const [sent, setSent] = useState<{ readonly key: string; readonly value: T; readonly over: string } | null>(null);
  const key = `${about} ${name}`;
  const text = JSON.stringify(stored);
  const latest = useRef(stored);
  latest.current = stored;
  const standing = sent !== null && sent.key === key && (sent.over === text || !settled) ? sent.value : stored;
  const show = (): T => {
    const one = formDrafts.of(about).peek()[name];
    return one === undefined ? standing : merge(one.before, one.value, latest.current);
  };
  const mine = (): T => withFieldsOf(show(), latest.current, formDrafts.elsewhere(about, name));
  const value = entry === undefined ? standing : merge(entry.before, entry.value, stored);
  const over = entry !== undefined && settled && same(value, stored);
  useLayoutEffect(() => {
    if (over) formDrafts.put(about, name, undefined);
  }, [over, about, name]);
  return {
    value,
    unsaved: entry !== undefined && !over,
    newer: entry !== undefined && apart(entry.before, entry.value, stored) ? stored : undefined,
    now: show,
    mine,
    stored: () => latest.current,
    set: (next) => {
      const now = show();
      const to = typeof next === 'function' ? (next as (now: T) => T)(now) : next;
      const before = formDrafts.of(about).peek()[name]?.before ?? latest.current;
      setSent(null);
      formDrafts.put(about, name, settled && same(to, latest.current) ? undefined : { value: to, before, title, path: location.pathname });
    },
    saved: (done) => {
      if (!same(mine(), done)) return;
      setSent({ key, value: done, over: JSON.stringify(latest.current) });
      formDrafts.saved(about, name, done);
    },
    drop: () => {
      setSent(null);
      formDrafts.put(about, name, undefined);
    },
  };
}

/** Whether something stands in a form that is not saved, for what is folded away else. */
export function isBegun(about: string, name: string): boolean {
  return formDrafts.of(about).peek()[name] !== undefined;
}
