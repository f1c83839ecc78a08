/**
 * The shared parts of every screen. Each is a small function component; none
 * keeps state that must outlive it, reads the store or knows a route. What the
 * first script needs it takes from the files themselves: through this one it
 * would carry all of them.
 */
export { Button, ButtonLink, type ButtonKind, type ButtonProps, type ButtonSize } from './button';
export { Field, TextField, AreaField, SelectField, CheckField, CheckGroup, type FieldProps, type Option } from './field';
export { Form } from './form';
export { AtOnceForm, useAtOnce, type ReadForm } from './at-once';
export { isBegun, useDraft, type AnyDraft, type Draft, type DraftOf } from './draft';
export { DraftLine } from './draft-line';
export { ChoiceRows, LevelButtons, Segments, type Choice } from './choice';
export { Dialog, type DialogProps } from './dialog';
export { Banner, type BannerTone } from './banner';
export { createGate, SavedLine, reasonOf, useSave, type SaveState, type Saver } from './saved';
export { useAction } from './action';
export { SyncBadge, syncWords } from './sync-badge';
export { DoorMark, LevelDoor, isLevel, levelIndex, levelWord } from './level-door';
export { Pad, type PadProps } from './pad';
export { Stopwatch, clockWords, type StopwatchProps } from './stopwatch';
export { Tally, type TallyProps } from './tally';
export { Tabs, TabPanel, type Tab } from './tabs';
export { Sentence } from './sentence';
export { Page, type PageProps } from './page';
export { More } from './page';
export { EffectMark, effectWord } from './effect-mark';
export { applyDisplay, display, switchTheme, type Display } from './display';
export { DisplaySettings, PadSettings } from './display-settings';
export { dateWords, timeWords, numberWords } from './words';
export { readNumber, padPress, type PadKey, type PadNumber } from './pad-text';
