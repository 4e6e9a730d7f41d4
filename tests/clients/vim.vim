" A session in Vim with ALE: opens a file of the example, asks, edits, formats, renames, and writes what it was told.
" Nothing here is a key of a person's: a script is never idle, so what the editor does when it is, is asked for in words.
let g:told = {}
" What is told goes where it can be read.
let g:ale_hover_to_preview = 1
let g:ale_set_balloons = 0

function! s:until(what, holds) abort
  let l:end = reltime()
  while !a:holds()
    if reltimefloat(reltime(l:end)) > 30
      throw a:what . ' did not come about'
    endif
    sleep 20m
  endwhile
endfunction

function! s:to(words) abort
  call cursor(1, 1)
  if search('\V' . escape(a:words, '\'), 'cW') == 0
    throw a:words . ' is not there'
  endif
endfunction

function! s:underlined() abort
  let l:found = ale#engine#GetLoclist(bufnr('%'))
  return map(copy(l:found), {_, one -> {
  \ 'code': get(one, 'code', ''), 'type': one.type, 'line': one.lnum, 'from': one.col, 'to': get(one, 'end_col', 0), 'text': one.text}})
endfunction

function! s:errors() abort
  return filter(s:underlined(), {_, one -> one.type is# 'E'})
endfunction

" Of what was typed before it may still be told for a moment.
function! s:onlyUnitMissing() abort
  return map(s:errors(), {_, one -> one.code}) == ['unit-of-measure-missing']
endfunction

function! s:lint() abort
  ALELint
endfunction

function! s:run() abort
  execute 'edit' fnameescape($STORYPOLE_FOLDER . '/templates/linen.closet')
  let g:told.filetype = &filetype
  call s:lint()
  " Notes are told of a file that has no errors, so it is known when it has been read.
  call s:until('the first findings', {-> len(s:underlined()) > 0})
  let g:told.before = s:errors()

  call s:to('shelf top')
  ALEHover
  call s:until('the hover', {-> index(map(range(1, winnr('$')), {_, n -> getwinvar(n, '&previewwindow')}), 1) >= 0})
  wincmd P
  let g:told.hover = join(getline(1, '$'), "\n")
  pclose

  call s:to('shelf top')
  call feedkeys("Osh\<C-r>=Offered()\<CR>\<Esc>", 'xt')
  silent undo

  call s:to('78in')
  silent substitute/78in/78/
  call s:lint()
  call s:until('the error', function('s:onlyUnitMissing'))
  let g:told.broken = s:errors()
  silent substitute/at 78/at 78in/
  call s:lint()
  call s:until('its end', {-> len(s:errors()) == 0})

  call append(line('.'), "    /* \U1F6AA */ shelf extra { at 7 }")
  call s:lint()
  call s:until('the error after four bytes', function('s:onlyUnitMissing'))
  let g:told.wide = s:errors()
  silent undo
  call s:lint()
  call s:until('its end', {-> len(s:errors()) == 0})

  let l:lines = getline(1, '$')
  silent! %substitute/^ \+shelf top/shelf    top/
  let l:askew = getline(1, '$') != l:lines
  ALEFix
  call s:until('the format', {-> getline(1, '$') == l:lines})
  let g:told.formatted = l:askew
  silent write

  execute 'edit' fnameescape($STORYPOLE_FOLDER . '/floors/floor-1.closet')
  call s:lint()
  call s:to('A-105-linen linen')
  call search(' \zslinen')
  ALEGoToDefinition
  call s:until('the template', {-> expand('%:t') is# 'linen.closet'})
  let g:told.definition = getline('.')

  call s:to('linen {')
  ALEFindReferences -quickfix
  call s:until('the references', {-> len(getqflist()) > 0})
  let g:told.references = len(getqflist())
endfunction

" Omni completion gives way to keys that are waiting, as all of a script's are, so its two steps are called from here.
function! Offered() abort
  call ale#completion#OmniFunc(1, '')
  call s:until('what is offered', {-> ale#completion#GetCompletionResult() isnot v:null})
  let g:told.words = map(copy(ale#completion#OmniFunc(0, 'sh')), {_, item -> item.word})
  return ''
endfunction

try
  execute 'source' fnameescape($STORYPOLE_SETUP)
  call s:run()
catch
  let g:told.failed = v:exception . ' at ' . v:throwpoint
endtry
call writefile([json_encode(g:told)], $STORYPOLE_RESULT)
qall!
