/** The one generator taken from seedrandom 3.0.5; its published types cover only the package's main entry. */
declare module 'seedrandom/lib/tychei.js' {
  interface Generator {
    /** Next value, 32 bits. */
    (): number
    /** Next value, 53 bits. Never exactly 0. */
    double(): number
  }
  function tychei(seed: string): Generator
  export = tychei
}
