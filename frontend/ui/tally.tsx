export interface TallyProps {
  /** What is counted, such as "Touched a thing". */
  readonly label: string;
  readonly hint?: string | undefined;
  readonly count: number;
  readonly onAdd: () => void;
  /** Takes one back; never below 0. */
  readonly onRemove: () => void;
  readonly size?: 'huge' | 'normal' | undefined;
}

/** A very large pad that counts a touch, with a minus below it. */
export function Tally(props: TallyProps) {
  return (
    <div class={`tally tally-${props.size ?? 'huge'}`}>
      <button type="button" class="tally-add" onClick={props.onAdd}>
        <span class="tally-count">{props.count}</span>
        <span class="tally-label">{props.label}</span>
        {props.hint ? <span class="tally-hint">{props.hint}</span> : null}
      </button>
      <button
        type="button"
        class="tally-remove"
        aria-disabled={props.count === 0 ? 'true' : undefined}
        onClick={() => {
          if (props.count > 0) props.onRemove();
        }}
      >
        − 1<span class="unseen"> {props.label}</span>
      </button>
      <span class="unseen" role="status">
        {props.label}: {props.count}
      </span>
    </div>
  );
}
