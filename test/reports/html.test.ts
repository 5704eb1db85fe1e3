import { describe, expect, it } from 'vitest'
import { html, jsonBlock, scriptBlock } from '../../reports/html/markup.ts'

describe('markup', () => {
  it('escapes whatever is put into it, lists too, and keeps what is markup already', () => {
    const name = `<b a='1' c="2">&`
    const safe = '&lt;b a=&#39;1&#39; c=&quot;2&quot;&gt;&amp;'
    expect(html`<p title="${name}">${name}${[name, html`<i>${1}</i>`]}${undefined}</p>`.text).toBe(
      `<p title="${safe}">${safe}${safe}<i>1</i></p>`,
    )
  })

  it('lets no data and no program end their block', () => {
    const data = { name: '</script><!--' }
    expect(jsonBlock(data).text).not.toContain('<')
    expect(JSON.parse(jsonBlock(data).text)).toEqual(data)
    expect(scriptBlock('a("</script><!--")').text).toBe('a("<\\/script><\\!--")')
  })
})
