-- A session in Neovim: opens a file of the example, asks, edits, formats where the server can, and writes what it was told.
-- nvim --headless --clean -l does not exist before 0.9, so it is read with -c "luafile ..." and ends by itself.
local folder, result = vim.env.STORYPOLE_FOLDER, vim.env.STORYPOLE_RESULT
local told = {}

local function run()
  vim.cmd('filetype on')
  vim.cmd('edit ' .. vim.fn.fnameescape(folder .. '/templates/linen.closet'))
  local buffer = vim.api.nvim_get_current_buf()
  local options = {
    name = 'storypole',
    cmd = { vim.env.STORYPOLE_NODE, vim.env.STORYPOLE_COMMAND, 'language-server', '--stdio' },
    root_dir = folder,
  }
  local id = vim.lsp.start_client(options)
  vim.lsp.buf_attach_client(buffer, id)
  local function ready() return vim.lsp.buf_get_clients(buffer)[id] ~= nil and vim.lsp.buf_get_clients(buffer)[id].initialized end
  assert(vim.wait(20000, ready, 20), 'the server did not start')
  local client = vim.lsp.get_client_by_id(id)
  local uri = vim.uri_from_bufnr(buffer)
  local about = { uri = uri }

  local function place(words)
    for row, line in ipairs(vim.api.nvim_buf_get_lines(buffer, 0, -1, false)) do
      local at = line:find(words, 1, true)
      if at then return { line = row - 1, character = at - 1 } end
    end
    error(words .. ' is not there')
  end
  local function ask(method, params)
    local answer, why = client.request_sync(method, params, 20000, buffer)
    assert(answer, why)
    assert(not answer.err, vim.inspect(answer.err))
    return answer.result
  end
  local function codes()
    local found = {}
    for _, d in ipairs(vim.diagnostic.get(buffer)) do
      local code = d.code or (d.user_data and d.user_data.lsp and d.user_data.lsp.code)
      table.insert(found, { code = code, severity = d.severity, line = d.lnum, from = d.col, to = d.end_col })
    end
    return found
  end
  local function wrong()
    return #vim.tbl_filter(function(d) return d.severity == vim.diagnostic.severity.ERROR end, codes()) > 0
  end

  told.capabilities = client.server_capabilities
  told.hover = ask('textDocument/hover', { textDocument = about, position = place('shelf top') })
  told.before = codes()
  told.completion = ask('textDocument/completion', { textDocument = about, position = place('shelf top') })

  local at = place('78in')
  vim.api.nvim_buf_set_text(buffer, at.line, at.character, at.line, at.character + 4, { '78' })
  assert(vim.wait(20000, wrong, 20), 'the error did not come')
  told.broken = codes()
  vim.api.nvim_buf_set_text(buffer, at.line, at.character, at.line, at.character + 2, { '78in' })
  assert(vim.wait(20000, function() return not wrong() end, 20), 'the error did not go')
  told.mended = codes()

  -- A line of several bytes before the place: Neovim counts columns in bytes and sends them in UTF-16.
  vim.api.nvim_buf_set_lines(buffer, at.line, at.line, false, { '    /* \u{1F6AA} */ shelf extra { at 7 }' })
  assert(vim.wait(20000, wrong, 20), 'the error after four bytes did not come')
  told.wide = codes()
  vim.api.nvim_buf_set_lines(buffer, at.line, at.line + 1, false, {})
  assert(vim.wait(20000, function() return not wrong() end, 20), 'the error after four bytes did not go')

  if client.server_capabilities.documentFormattingProvider then
    told.formatting = ask('textDocument/formatting', { textDocument = about, options = { tabSize = 2, insertSpaces = true } })
  end

  vim.cmd('edit ' .. vim.fn.fnameescape(folder .. '/floors/floor-1.closet'))
  buffer = vim.api.nvim_get_current_buf()
  vim.lsp.buf_attach_client(buffer, id)
  local floor = { uri = vim.uri_from_bufnr(buffer) }
  local unit = place('A-105-linen linen')
  unit.character = unit.character + #'A-105-linen '
  told.definition = ask('textDocument/definition', { textDocument = floor, position = unit })
  told.log = vim.lsp.get_log_path()

  vim.lsp.stop_client(id)
  assert(vim.wait(10000, function() return vim.lsp.get_client_by_id(id) == nil or client.is_stopped() end, 20), 'the server did not end')
  told.ended = true
end

local held, why = xpcall(run, debug.traceback)
if not held then told.failed = tostring(why) end
local file = assert(io.open(result, 'w'))
file:write((vim.json and vim.json.encode or vim.fn.json_encode)(told))
file:close()
vim.cmd('qall!')
