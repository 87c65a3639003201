//! Copies and fills memory, and divides, in forty bytes of code each: what the compiler brings for it takes kilobytes, to
//! be fast with more than this image ever copies or divides.
#![expect(unsafe_code, reason = "what the compiler calls by these names is assembly")]

core::arch::global_asm!(
    "
    .syntax unified
    .thumb

    .section .text.memcpy, \"ax\", %progbits
    .p2align 1
    .global memcpy, __aeabi_memcpy, __aeabi_memcpy4, __aeabi_memcpy8
    .thumb_func
memcpy:
    .thumb_func
__aeabi_memcpy:
    .thumb_func
__aeabi_memcpy4:
    .thumb_func
__aeabi_memcpy8:
    movs r3, r0
    orrs r3, r1
    orrs r3, r2
    lsls r3, r3, #30
    beq 3f
1:  subs r2, #1     @ byte by byte, the last first
    bmi 4f
    ldrb r3, [r1, r2]
    strb r3, [r0, r2]
    b 1b
2:  ldr r3, [r1, r2]
    str r3, [r0, r2]
3:  subs r2, #4     @ whole words
    bpl 2b
4:  bx lr

    .section .text.memmove, \"ax\", %progbits
    .p2align 1
    .global memmove, __aeabi_memmove, __aeabi_memmove4, __aeabi_memmove8
    .thumb_func
memmove:
    .thumb_func
__aeabi_memmove:
    .thumb_func
__aeabi_memmove4:
    .thumb_func
__aeabi_memmove8:
    cmp r0, r1
    bhs __aeabi_memcpy  @ where it goes up, the last first is right
    push {{r4}}
    movs r3, #0
    b 6f
5:  ldrb r4, [r1, r3]
    strb r4, [r0, r3]
    adds r3, #1
6:  cmp r3, r2
    bne 5b
    pop {{r4}}
    bx lr

    .section .text.memset, \"ax\", %progbits
    .p2align 1
    .global __aeabi_memclr, __aeabi_memclr4, __aeabi_memclr8
    .thumb_func
__aeabi_memclr:
    .thumb_func
__aeabi_memclr4:
    .thumb_func
__aeabi_memclr8:
    movs r2, #0
    .global __aeabi_memset, __aeabi_memset4, __aeabi_memset8
    .thumb_func
__aeabi_memset:
    .thumb_func
__aeabi_memset4:
    .thumb_func
__aeabi_memset8:
1:  subs r1, #1
    bmi 2f
    strb r2, [r0, r1]
    b 1b
2:  bx lr

    .section .text.divide, \"ax\", %progbits
    .p2align 1
    .global __aeabi_uidiv, __aeabi_uidivmod, __aeabi_idiv, __aeabi_idivmod
    .thumb_func
__aeabi_uidiv:
    .thumb_func
__aeabi_uidivmod:
    movs r2, #0     @ what is left, bit by bit, the highest first
    movs r3, #32
7:  lsls r0, r0, #1
    adcs r2, r2
    bcs 8f
    cmp r2, r1
    blo 9f
8:  subs r2, r2, r1
    adds r0, #1
9:  subs r3, #1
    bne 7b
    movs r1, r2
    bx lr
    .thumb_func
__aeabi_idiv:
    .thumb_func
__aeabi_idivmod:
    push {{r4, r5, lr}}
    asrs r4, r0, #31
    asrs r5, r1, #31
    eors r0, r4
    subs r0, r0, r4
    eors r1, r5
    subs r1, r1, r5
    eors r5, r4
    bl __aeabi_uidivmod
    eors r0, r5
    subs r0, r0, r5
    eors r1, r4
    subs r1, r1, r4
    pop {{r4, r5, pc}}
    "
);
