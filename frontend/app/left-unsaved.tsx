import { useEffect, useRef, useState } from 'preact/hooks';
import { usePlace } from '../ui/address';
import { Banner } from '../ui/banner';
import { Button } from '../ui/button';
import { drafts } from '../lib';
import { formDrafts } from '../lib/form-drafts';
import { readOlderInput } from './older-input';

/** A field that is left saves itself first; only what stays after that is unsaved. */
const SETTLED_MS = 800;

/** The screen that was left just now; null right after somebody came in, when it can be any; undefined while nothing was left. */
function useLeft(path: string): string | null | undefined {
  const [left, setLeft] = useState<string | null | undefined>(undefined);
  const last = useRef<string | null>(null);
  useEffect(() => {
    const from = last.current;
    last.current = path;
    setLeft(undefined);
    const timer = setTimeout(() => setLeft(from), SETTLED_MS);
    return () => clearTimeout(timer);
  }, [path]);
  return left;
}

/** Says what was begun on the screen that was left, or anywhere before the tablet was locked or closed. */
export function LeftUnsaved() {
  const { path } = usePlace();
  const left = useLeft(path);
  const begun = formDrafts.begun().filter((one) => one.path !== path && (left === null || one.path === left));
  return (
    <>
      <NotKept />
      <InOtherTabs path={path} />
      <OlderInput path={path} />
      {left === undefined || begun.length === 0 ? null : (
        <Banner tone="note" title="Not saved yet, and kept on this tablet as typed" live>
          <ul class="plain-list">
            {begun.map((one) => (
              <li key={`${one.about} ${one.name}`}>
                <a class="link-row" href={one.path ?? '/'}>
                  {one.title}
                </a>
              </li>
            ))}
          </ul>
        </Banner>
      )}
    </>
  );
}

/** What other tabs have in fields of this screen, where something else stands here: both are kept until somebody chooses. */
function InOtherTabs(props: { readonly path: string }) {
  const apart = formDrafts.begun().filter((one) => one.path === props.path && one.others !== undefined);
  if (apart.length === 0) return null;
  return (
    <Banner tone="caution" title="Typed in two tabs" live>
      <ul class="notes">
        {apart.map(({ about, name, others = [], ...draft }) => {
          const [other, ...rest] = others;
          const put = (value: unknown, left: readonly unknown[]) => formDrafts.put(about, name, { ...draft, value, others: left });
          return (
            <li key={`${about} ${name}`}>
              {draft.title}: another tab has {typeof other === 'string' ? `“${other}”` : 'something else'}. Both are kept on this tablet.
              <div class="actions">
                <Button label={`Change to the other: ${draft.title}`} onPress={() => put(other, [...rest, draft.value])}>
                  Change to the other
                </Button>
                <Button kind="quiet" label={`Throw the other away: ${draft.title}`} onPress={() => put(draft.value, rest)}>
                  Throw the other away
                </Button>
              </div>
            </li>
          );
        })}
      </ul>
    </Banner>
  );
}

/** The browser has no room for what is being typed. */
function NotKept() {
  if (drafts.failing.value.size === 0) return null;
  return (
    <Banner tone="caution" title="What you type is not kept" live>
      This browser does not keep it now, for example because it has no room left. Save it before you leave the screen or lock the tablet.
    </Banner>
  );
}

/** Text that a version before this one kept by its screen: shown, so that it is not lost. */
function OlderInput(props: { readonly path: string }) {
  const key = `typed:${props.path}`;
  const [gone, setGone] = useState('');
  const older = gone === key ? [] : readOlderInput(drafts.load(key));
  if (older.length === 0) return null;
  return (
    <Banner tone="note" title="You were typing this before the app was updated" live>
      <ul class="notes">
        {older.map((one) => (
          <li key={`${one.heading ?? ''} ${one.label} ${one.nth}`}>
            {one.heading ? `${one.heading}, ` : ''}“{one.label}”: {one.text}
          </li>
        ))}
      </ul>
      <Button
        onPress={() => {
          drafts.drop(key);
          setGone(key);
        }}
      >
        Throw it away
      </Button>
    </Banner>
  );
}
