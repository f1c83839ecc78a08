import type { Signal } from '@preact/signals';
import { useEffect, useRef, useState } from 'preact/hooks';
import { usePlace } from '../address';
import { Banner } from '../banner';
import { Button, ButtonLink } from '../button';
import { acknowledgeAltered, acknowledgeHoldings, session } from '../../lib';
import { SavedLine, useSave } from '../saved';
import type { State } from './state-list';
import { longOnlyHere, statesNow } from './state-now';
import { isQuiet, takeUpdate, updating } from './update';

/** Says that the person has read it, or why that could not be noted. */
function ReadButton(props: { readonly read: () => Promise<void>; readonly children: string }) {
  const saver = useSave();
  return (
    <>
      <Button onPress={() => void saver.save('read', props.read)}>{props.children}</Button>
      {saver.state.kind === 'failed' ? <SavedLine state={saver.state} /> : null}
    </>
  );
}

/** What the person may press about a state. */
export function Remedy({ state }: { readonly state: State }) {
  switch (state.remedy) {
    case 'reload':
      return (
        <Button
          onPress={() => {
            location.reload();
          }}
        >
          Reload
        </Button>
      );
    case 'update':
      return (
        <Button onPress={takeUpdate} disabled={updating.value}>
          {updating.value ? 'Updating…' : 'Update now'}
        </Button>
      );
    case 'sign-in':
      return <ButtonLink href={`/sign-in?to=${encodeURIComponent(location.pathname)}`}>Sign in</ButtonLink>;
    case 'read':
      return <ReadButton read={acknowledgeHoldings}>I have read this</ReadButton>;
    case 'read-altered':
      return <ReadButton read={() => acknowledgeAltered('rows')}>Put this message away</ReadButton>;
    case 'read-set-back':
      return <ReadButton read={() => acknowledgeAltered('whole')}>Put this message away</ReadButton>;
    case undefined:
      return null;
  }
}

/** One state with what to do about it. */
export function StateBanner({ state }: { readonly state: State }) {
  return (
    <Banner tone={state.weight} title={state.title}>
      <p>{state.text}</p>
      <p>What to do: {state.todo}</p>
      {state.remedy ? (
        <div class="actions">
          <Remedy state={state} />
        </div>
      ) : null}
    </Banner>
  );
}

/** States on which no screen may stay silent: nothing can be saved there. */
const everywhere: ReadonlySet<string> = new Set(['blocked', 'outdated', 'deleted', 'lost', 'full']);

/**
 * An update is offered where a reload can lose nothing; one that took over is told
 * everywhere. That records were changed is told where nothing is half entered.
 */
function belongsHere(state: State, path: string): boolean {
  if (state.remedy === 'read-altered' || state.remedy === 'read-set-back') return isQuiet(path);
  return everywhere.has(state.id) || (state.id === 'update' && (state.remedy === 'reload' || isQuiet(path)));
}

/** What stands above every screen, and what is read out when it begins. How many somebody must act on goes to `attentionCount`. */
export function StateLines({ attentionCount }: { readonly attentionCount: Signal<number> }) {
  const { path } = usePlace();
  const all = statesNow.value;
  useEffect(() => {
    attentionCount.value = all.filter((one) => one.weight !== 'note').length;
  }, [all]);
  const onOwnScreen = path === '/sync';
  return (
    <>
      <Announce states={all} />
      {longOnlyHere.value === null ? null : <RedLine state={longOnlyHere.value} />}
      {onOwnScreen && session.value !== null
        ? null
        : all.filter((one) => belongsHere(one, path)).map((one) => <StateBanner key={one.id} state={one} />)}
    </>
  );
}

/** In red, and told by its mark and its words as well. */
function RedLine({ state }: { readonly state: State }) {
  return (
    <p class="red-line">
      <svg viewBox="0 0 20 20" width="1.3em" height="1.3em" aria-hidden="true" focusable="false">
        <path d="M10 2 19 18H1Z M10 7.5v5 M10 14.6v1.4" fill="none" stroke="currentColor" stroke-width="2" stroke-linejoin="round" />
      </svg>
      <strong>{state.title}</strong>
      <a class="link-row" href="/sync">
        Send now
      </a>
    </p>
  );
}

/** Says once what is new among the states that somebody must act on. */
function Announce({ states }: { readonly states: readonly State[] }) {
  const said = useRef<ReadonlySet<string>>(new Set());
  const [text, setText] = useState('');
  useEffect(() => {
    const now = states.filter((one) => one.weight !== 'note');
    const fresh = now.filter((one) => !said.current.has(one.id));
    said.current = new Set(now.map((one) => one.id));
    if (fresh.length > 0) setText(fresh.map((one) => `${one.title}.`).join(' '));
  }, [states]);
  return (
    <p class="unseen" role="status">
      {text}
    </p>
  );
}
