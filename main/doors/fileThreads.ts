// Loaded before all else by the processes that hold a studio. Node reads files in four threads by default, and a check
// keeps just these busy with pictures: a page's file waited for most of a second until one was free. Node looks at this
// when the first thread is asked for.
process.env.UV_THREADPOOL_SIZE ??= '12'
