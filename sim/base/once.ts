/**
 * What is found of an object once and kept as long as the object is: lines and their parts never
 * change, and are asked for the same again and again.
 *
 * @param find must give the same for the same object, and nobody may change what it gives
 */
export function onceEach<Key extends object, Value>(find: (key: Key) => Value): (key: Key) => Value {
  const found = new WeakMap<Key, { readonly value: Value }>()
  return key => {
    const known = found.get(key)
    if (known !== undefined) return known.value
    const value = find(key)
    found.set(key, { value })
    return value
  }
}
