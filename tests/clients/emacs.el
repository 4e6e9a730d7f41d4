;;; A session in Emacs: opens a file of the example, edits, asks, renames, and writes what it was told.  -*- lexical-binding: t -*-
;; emacs -q --batch -l emacs.el. What it starts the server with are the lines of the README, in STORYPOLE_SETUP.
(require 'json)
(package-initialize)
(require 'eglot)
(require 'flymake)
(load (getenv "STORYPOLE_SETUP"))

(defvar folder (getenv "STORYPOLE_FOLDER"))
(defvar told nil)
(defun tell (name value) (push (cons name value) told))

(defun wait-for (what held)
  "Let the server speak until HELD says so, for twenty seconds."
  (let ((until (+ (float-time) 20)))
    (while (not (funcall held))
      (when (> (float-time) until) (error "%s did not come" what))
      (accept-process-output nil 0.02))))

(defun open-file (name)
  ;; Eglot shows only what somebody looks at.
  (switch-to-buffer (find-file-noselect (expand-file-name name folder))))

(defun sent ()
  "Send what was typed. Eglot waits for an idle moment, and a script has none."
  (eglot--signal-textDocument/didChange))

(defun go (words)
  (goto-char (point-min))
  (search-forward words)
  (goto-char (match-beginning 0)))

(defun underlined ()
  (mapcar
   (lambda (diagnostic)
     (let ((said (alist-get 'eglot-lsp-diag (flymake-diagnostic-data diagnostic))))
       `((code . ,(plist-get said :code))
         (severity . ,(plist-get said :severity))
         (text . ,(buffer-substring-no-properties (flymake-diagnostic-beg diagnostic) (flymake-diagnostic-end diagnostic)))
         (message . ,(flymake-diagnostic-text diagnostic)))))
   (flymake-diagnostics)))

(defun errors () (seq-filter (lambda (one) (equal (alist-get 'severity one) 1)) (underlined)))

(defun hover ()
  (let ((shown nil))
    (eglot-hover-eldoc-function (lambda (text &rest _) (setq shown (or text shown))))
    (wait-for "what is told on hover" (lambda () shown))
    (substring-no-properties shown)))

(defun completions ()
  (let ((table (nth 2 (eglot-completion-at-point))))
    (vconcat (mapcar #'substring-no-properties (all-completions "" table)))))

(defun session ()
  (setq eglot-sync-connect 20
        eglot-confirm-server-initiated-edits nil
        eglot-confirm-server-edits nil)
  (open-file "templates/linen.closet")
  (tell 'mode (symbol-name major-mode))
  (apply #'eglot (eglot--guess-contact))
  (tell 'managed (if (eglot-managed-p) t json-false))
  (flymake-start nil)

  (go "shelf top")
  (forward-char 6)
  (tell 'hover (hover))
  (tell 'before (vconcat (errors)))
  (go "shelf top")
  (tell 'words (completions))

  (go "78in")
  (forward-char 2)
  (delete-char 2)
  (sent)
  (wait-for "the error" #'errors)
  (tell 'broken (vconcat (errors)))
  (insert "in")
  (sent)
  (wait-for "the end of the error" (lambda () (null (errors))))

  ;; Emacs counts characters, and the protocol the halves of this one.
  (go "shelf top")
  (insert "/* \U0001F6AA */ shelf extra { at 7 }\n    ")
  (sent)
  (wait-for "the error after a letter of four bytes" #'errors)
  (tell 'wide (vconcat (errors)))
  (go "/* \U0001F6AA")
  (delete-region (point) (search-forward "\n    "))
  (sent)
  (wait-for "the end of that error" (lambda () (null (errors))))

  (let ((before (buffer-string)))
    (goto-char (point-min))
    (search-forward "  depth 16in")
    (replace-match "     depth   16in")
    (sent)
    (eglot-format-buffer)
    (sent)
    (tell 'formatted (if (equal (buffer-string) before) t json-false)))

  (open-file "floors/floor-1.closet")
  (go "linen linen")
  (forward-char (length "linen "))
  (tell 'names (completions))
  ;; Whoever is asked about files that are not open says yes.
  (cl-letf (((symbol-function 'y-or-n-p) #'always))
    (eglot-rename "linen-hall"))
  (save-some-buffers t)
  (tell 'renamed
        (vconcat (sort (delete-dups (mapcar (lambda (buffer) (file-relative-name (buffer-file-name buffer) folder))
                                            (seq-filter #'buffer-file-name (buffer-list))))
                       #'string<)))

  (let ((server (eglot-current-server)))
    (eglot-shutdown server)
    (tell 'ended (if (jsonrpc-running-p server) json-false t))))

(condition-case why
    (session)
  (error (tell 'failed (error-message-string why))))
(let ((coding-system-for-write 'utf-8))
  (with-temp-file (getenv "STORYPOLE_RESULT") (insert (json-encode told))))
