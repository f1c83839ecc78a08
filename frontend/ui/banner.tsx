import type { ComponentChildren } from 'preact';

/** note: worth knowing. caution: read before going on. stop: something is not safe. done: it worked. */
export type BannerTone = 'note' | 'caution' | 'stop' | 'done';

const toneWord: Readonly<Record<BannerTone, string>> = { note: 'Note', caution: 'Caution', stop: 'Stop', done: 'Done' };

/** A framed message. Its tone is a word and the weight of its frame, not a colour. */
export function Banner(props: {
  readonly tone: BannerTone;
  readonly children: ComponentChildren;
  /** Replaces the tone's own word. */
  readonly title?: string | undefined;
  /** Read out when it appears. */
  readonly live?: boolean | undefined;
  /** One low line, above what the screen is for. */
  readonly line?: boolean | undefined;
}) {
  return (
    <div class={`banner banner-${props.tone}${props.line ? ' banner-line' : ''}`} role={props.live ? 'status' : undefined}>
      <strong class="banner-word">{props.title ?? toneWord[props.tone]}</strong>
      <div class="banner-text">{props.children}</div>
    </div>
  );
}
