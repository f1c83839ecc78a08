/** The Go toolchain's own loader; the bundler resolves the name. It defines the global class Go. */
declare module 'wasm-exec';
