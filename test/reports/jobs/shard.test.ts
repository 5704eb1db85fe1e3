import { describe, expect, it } from 'vitest'
import { shardFromEnvironment, shardIn, shareOf } from '../../../reports/jobs/shard.ts'

/** A Slurm job array as its own variables describe it to a task. */
function slurm(id: number, count: number, least: number, most: number, step?: number) {
  return {
    SLURM_ARRAY_TASK_ID: String(id),
    SLURM_ARRAY_TASK_COUNT: String(count),
    SLURM_ARRAY_TASK_MIN: String(least),
    SLURM_ARRAY_TASK_MAX: String(most),
    ...(step !== undefined && { SLURM_ARRAY_TASK_STEP: String(step) }),
  }
}

describe('a share', () => {
  it('is read as i/n', () => {
    expect(shardIn('2/8')).toEqual({ index: 2, count: 8 })
    expect(shardIn(' 1 / 1 ')).toEqual({ index: 1, count: 1 })
  })

  it.each(['', '0/2', '3/2', '-1/2', '1.5/2', '1', '1/', '1/2/3', 'a/b', '1/0', '1/1000000'])(
    'is not "%s"',
    text => {
      expect(shardIn(text)).toBeUndefined()
    },
  )

  it('has every n-th run, all shares together each run once', () => {
    expect(Array.from({ length: 7 }, (_, run) => shareOf(run, 3))).toEqual([1, 2, 3, 1, 2, 3, 1])
  })
})

describe('a share from the environment', () => {
  it('is none without a scheduler', () => {
    expect(shardFromEnvironment({})).toBeUndefined()
    expect(shardFromEnvironment({ SLURM_JOB_ID: '7', SLURM_ARRAY_TASK_ID: '' })).toBeUndefined()
  })

  it.each([
    [slurm(1, 8, 1, 8, 1), 1, 8],
    [slurm(8, 8, 1, 8), 8, 8],
    [slurm(0, 4, 0, 3, 1), 1, 4],
    [slurm(30, 3, 10, 30, 10), 3, 3],
  ])('comes from a Slurm array: %j', (env, index, count) => {
    const from = `SLURM_ARRAY_TASK_ID=${env.SLURM_ARRAY_TASK_ID}`
    expect(shardFromEnvironment(env)).toEqual({ shard: { index, count }, from })
  })

  it('is refused for a Slurm array with gaps', () => {
    // --array=1,2,5: three tasks, the last of them 5.
    expect(() => shardFromEnvironment(slurm(2, 3, 1, 5, 1))).toThrow(/gaps.*1-3.*--shard i\/n/)
    expect(() => shardFromEnvironment(slurm(5, 3, 1, 5, 1))).toThrow('gaps')
  })

  it('is refused when Slurm says too little', () => {
    expect(() => shardFromEnvironment({ SLURM_ARRAY_TASK_ID: '3' })).toThrow(
      'SLURM_ARRAY_TASK_COUNT is not set',
    )
    expect(() => shardFromEnvironment({ ...slurm(1, 8, 1, 8), SLURM_ARRAY_TASK_ID: 'x' })).toThrow('"x"')
  })

  it('comes from a Kubernetes Indexed Job, whose number of completions is set by hand', () => {
    expect(shardFromEnvironment({ JOB_COMPLETION_INDEX: '0', JOB_COMPLETIONS: '5' })).toEqual({
      shard: { index: 1, count: 5 },
      from: 'JOB_COMPLETION_INDEX=0',
    })
    expect(() => shardFromEnvironment({ JOB_COMPLETION_INDEX: '0' })).toThrow('JOB_COMPLETIONS is not')
    expect(() => shardFromEnvironment({ JOB_COMPLETION_INDEX: '5', JOB_COMPLETIONS: '5' })).toThrow(
      'not below',
    )
  })
})
