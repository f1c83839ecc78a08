/** What there is to do next, in a few strokes. */
import type { ComponentChildren } from 'preact';

export type Task = 'measure' | 'drive' | 'answer' | 'write' | 'teach' | 'stop' | 'support';

const drawings: Readonly<Record<Task, () => ComponentChildren>> = {
  measure: () => (
    <>
      <circle class="p-skin" cx="48" cy="48" r="34" />
      <path class="p-line" d="M48 48L66 30M48 20v6M76 48h-6M20 48h6M28 28l4 4" />
      <circle class="p-dark" cx="48" cy="48" r="5" />
      <path class="p-line p-bold" d="M48 82v10" />
    </>
  ),
  drive: () => (
    <>
      <path class="p-dark" d="M6 14H14V86H6ZM82 14H90V86H82Z" />
      <path class="p-skin" d="M34 50H62V84H34Z" />
      <path class="p-dark" d="M28 60h6v16h-6zM62 60h6v16h-6z" />
      <path class="p-line p-bold" d="M48 42V14M38 24l10-10 10 10" />
    </>
  ),
  answer: () => (
    <>
      <path class="p-skin" d="M20 10H76V88H20Z" />
      <path class="p-line p-bold" d="M30 30l6 7 11-14M30 56l6 7 11-14" />
      <path class="p-thin" d="M56 32H68M56 58H68M32 78H64" />
    </>
  ),
  write: () => (
    <>
      <path class="p-skin" d="M14 12H66V86H14Z" />
      <path class="p-thin" d="M24 28H56M24 42H56M24 56H44" />
      <path class="p-accent" d="M50 70L78 38L88 46L60 78L48 82Z" />
    </>
  ),
  teach: () => (
    <>
      <circle class="p-skin" cx="32" cy="30" r="13" />
      <circle class="p-skin" cx="70" cy="36" r="11" />
      <path class="p-cloth" d="M10 84Q10 50 32 50T54 84Z" />
      <path class="p-trousers" d="M54 84Q52 54 70 54T90 84Z" />
      <path class="p-thin" d="M48 22q8-8 16-4" />
    </>
  ),
  stop: () => (
    <>
      <path class="p-pale" d="M16 66H80L76 86H20Z" />
      <path class="p-line" d="M48 66V52" />
      <path class="p-dark" d="M24 40a24 16 0 0 1 48 0v12H24z" />
      <path class="p-line" d="M48 4V16M41 11l7 7 7-7" />
    </>
  ),
  support: () => (
    <>
      <path class="p-pale" d="M14 58Q12 74 26 74H78Q88 74 86 62L82 58Q50 66 14 58Z" />
      <path class="p-skin" d="M8 34L62 42Q80 38 88 46Q92 54 84 58L60 60L8 58Z" />
      <path class="p-thin" d="M76 46q-5 5 0 10M84 48q-4 4 0 8" />
      <path class="p-line" d="M40 74V90M30 90H50" />
    </>
  ),
};

export function TaskPicture(props: { readonly task: Task }) {
  const Lines = drawings[props.task];
  return (
    <svg class="picture control-picture control-picture-large" viewBox="0 0 96 96" aria-hidden="true" focusable="false">
      <Lines />
    </svg>
  );
}
