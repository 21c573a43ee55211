import { describe, expect, it } from 'vitest'
import { judgeRows, parseProductList } from '../../main/trade/productList.ts'

const cellsOf = (text: string) => parseProductList(text).rows.map(({ cells }) => cells)
const linesOf = (text: string) => parseProductList(text).rows.map(({ line }) => line)
const reading = { sizeUnit: 'mm', massUnit: 'g', mark: '.' } as const

describe('reading a product list', () => {
  // RFC 4180 §2, rules 1 to 7, with their own examples below a header.
  it.each([
    [
      'rule 1, a record per line',
      'x,y,z\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n',
      [
        ['aaa', 'bbb', 'ccc'],
        ['zzz', 'yyy', 'xxx'],
      ],
    ],
    [
      'rule 2, the last line end may be missing',
      'x,y,z\r\naaa,bbb,ccc\r\nzzz,yyy,xxx',
      [
        ['aaa', 'bbb', 'ccc'],
        ['zzz', 'yyy', 'xxx'],
      ],
    ],
    [
      'rule 5, fields in quotation marks or not',
      'x,y,z\r\n"aaa","bbb","ccc"\r\nzzz,yyy,xxx',
      [
        ['aaa', 'bbb', 'ccc'],
        ['zzz', 'yyy', 'xxx'],
      ],
    ],
    [
      'rule 6, a line end inside a field',
      'x,y,z\r\n"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx',
      [
        ['aaa', 'b\r\nbb', 'ccc'],
        ['zzz', 'yyy', 'xxx'],
      ],
    ],
    ['rule 7, a quotation mark inside a field', 'x,y,z\r\n"aaa","b""bb","ccc"', [['aaa', 'b"bb', 'ccc']]],
  ])('keeps to RFC 4180 %s', (_, text, cells) => {
    expect(cellsOf(text)).toEqual(cells)
  })

  it('reads lists parted by semicolons and tabs, with a byte-order mark, with a sep line', () => {
    const cells = [['K-1', 'Kettle', '12,5']]
    for (const text of [
      'code;name;width\nK-1;Kettle;12,5',
      'code\tname\twidth\nK-1\tKettle\t12,5',
      'code,name,width\nK-1,Kettle,"12,5"',
      '\ufeffcode;name;width\r\nK-1;Kettle;12,5\r\n',
      'sep=;\r\ncode;name;width\r\nK-1;Kettle;12,5',
      '\ufeffsep=;\ncode;name;width\nK-1;Kettle;12,5',
      'code;name;width\rK-1;Kettle;12,5\r',
    ]) {
      expect(cellsOf(text)).toEqual(cells)
      expect(parseProductList(text).headers).toEqual(['code', 'name', 'width'])
    }
  })

  it('takes the separator from the header, where no decimal comma can mislead', () => {
    expect(parseProductList('code;"Size, in mm";note\nK-1;1,5;a,b,c,d').delimiter).toBe(';')
  })

  it('counts lines as an editor does: over empty lines and through fields of several lines', () => {
    expect(linesOf('code,name\n\nK-1,"a\nb"\n\nK-2,c\n')).toEqual([3, 6])
    expect(linesOf('sep=,\r\ncode,name\r\nK-1,a')).toEqual([3])
  })

  it('passes over rows of empty cells', () => {
    expect(cellsOf('code,name\nK-1,a\n,\n , \nK-2,b\n\n')).toEqual([
      ['K-1', 'a'],
      ['K-2', 'b'],
    ])
  })

  it.each([
    ['an empty text', '  \n', 'holds no products'],
    ['a header alone', 'code,name\n', 'holds no products'],
    ['a zipped workbook', 'PK\u0003\u0004\u0014', 'workbook'],
    ['more than 20,000 rows', `code\n${'K\n'.repeat(20_001)}`, '20001 products'],
  ])('refuses %s', (_, text, words) => {
    expect(() => parseProductList(text)).toThrow(words)
  })
})

describe('judging the rows of a list', () => {
  const columns = {
    code: { index: 0, unit: null },
    name: { index: 1, unit: null },
    width: { index: 2, unit: null },
  }
  const judge = (text: string) => judgeRows(parseProductList(text).rows, columns, reading)

  it('gives every bad row its line, its column and a reason, and takes the others', () => {
    const { good, bad } = judge('code,name,width\nK-1,Kettle,80\n,Pan,90\nK-3,Pot,wide\nK-4,Bowl,120')
    expect(good.map(({ line, product }) => [line, product.code])).toEqual([
      [2, 'K-1'],
      [5, 'K-4'],
    ])
    expect(bad).toEqual([
      { line: 3, code: '', column: 'code', reason: expect.stringContaining('code is missing') },
      { line: 4, code: 'K-3', column: 'width', reason: expect.stringContaining("'wide', is not a number") },
    ])
  })

  it('keeps out a line with more cells than the header, as an unquoted comma makes it', () => {
    const { good, bad } = judge('code,name,width\nK-1,Kettle,12,5\nK-2,Pan,90,')
    expect(good.map(({ product }) => product.code)).toEqual(['K-2'])
    expect(bad).toMatchObject([
      { line: 2, column: null, reason: expect.stringContaining('4 cells, the header 3') },
    ])
  })

  it('keeps out a line with a quotation mark that never closes, and says that the rest is lost', () => {
    const { good, bad } = judge('code,name,width\nK-1,Kettle,80\nK-2,"Pan,90\nK-3,Pot,70')
    expect(good.map(({ product }) => product.code)).toEqual(['K-1'])
    expect(bad).toMatchObject([{ line: 3, reason: expect.stringContaining('never closes') }])
  })

  it('takes the first of two lines with the same code', () => {
    const { good, bad } = judge('code,name,width\nK-1,Kettle,80\nK-1,Pan,90')
    expect(good.map(({ product }) => product.name)).toEqual(['Kettle'])
    expect(bad).toMatchObject([
      { line: 3, column: 'code', reason: expect.stringContaining('line 2 already') },
    ])
  })

  it('keeps out a code longer than the studio can hold', () => {
    expect(judge(`code,name,width\n${'K'.repeat(61)},Kettle,80`).bad).toMatchObject([
      { line: 2, column: 'code', reason: expect.stringContaining('61 characters') },
    ])
  })

  it('refuses to begin without a column for the code', () => {
    expect(() => judgeRows([], { name: { index: 1, unit: null } }, reading)).toThrow('column holds the code')
  })
})
