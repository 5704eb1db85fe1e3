/** A typed array of twice the length with the same contents. */
export function grown<A extends Float64Array | Int32Array | Uint16Array | Uint8Array>(old: A): A {
  const larger = new (old.constructor as new (length: number) => A)(old.length * 2)
  larger.set(old as never)
  return larger
}

/** A full ring, rewritten from its head into an array of twice the length. */
export function unrolled<A extends Float64Array | Int32Array>(ring: A, head: number): A {
  const larger = new (ring.constructor as new (length: number) => A)(ring.length * 2)
  larger.set(ring.subarray(head) as never)
  larger.set(ring.subarray(0, head) as never, ring.length - head)
  return larger
}
